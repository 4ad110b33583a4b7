"""Waiting for what another process does."""

import asyncio
import time
from collections.abc import Callable


def until(true: Callable[[], object], seconds: float = 10.0) -> None:
    """Wait until it is true, at most so long."""
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "it did not happen in time"
        time.sleep(0.01)


async def soon(true: Callable[[], object], seconds: float = 10.0) -> None:
    """Let the program go on until it is true, at most so long."""
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "it did not happen in time"
        await asyncio.sleep(0.01)
