"""What is done beside the keys: started in the event loop, never lost when it fails."""

import asyncio
from collections.abc import Callable, Coroutine
from typing import Any

Work = Coroutine[Any, Any, None]


class Tasks:
    """One per run; `failed` is told what went wrong in a task."""

    def __init__(self, failed: Callable[[BaseException], None]) -> None:
        self._failed = failed
        self._running: set[asyncio.Task[None]] = set()

    def start(self, work: Work) -> "asyncio.Task[None] | None":
        """Have something done beside the keys; without an event loop, never."""
        try:
            task = asyncio.get_running_loop().create_task(work)
        except RuntimeError:
            work.close()
            return None
        self._running.add(task)
        task.add_done_callback(self._finished)
        return task

    def later(self, seconds: float, work: Callable[[], Work]) -> "asyncio.Task[None] | None":
        """Have something done after some seconds, unless the task is cancelled; without an event loop, never."""

        async def wait() -> None:
            await asyncio.sleep(seconds)
            await work()

        return self.start(wait())

    def cancel(self) -> None:
        """Give up all that is still being done."""
        for task in list(self._running):
            task.cancel()

    def _finished(self, task: "asyncio.Task[None]") -> None:
        self._running.discard(task)
        if not task.cancelled() and (failure := task.exception()) is not None:
            self._failed(failure)
