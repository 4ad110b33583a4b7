"""The player's settings of one run: what is wrong with their file is said, and what cannot be kept."""

import asyncio
from collections.abc import Coroutine
from pathlib import Path
from typing import Any

from tests.tui.sets_in_files import put
from tui.persistence.own_settings import OwnSettings


async def test_the_first_of_several_mistakes_is_said_and_how_many_more_there_are(home: Path) -> None:
    said: list[str] = []
    put(home, "player.toml", 'reach = "a ninht"\npedal = "cc 64"\nguide = "loud"\n')
    settings = OwnSettings(said.append, _at_once)
    settings.load()
    assert said[-1].startswith("player.toml (and 2 more: stillhand check): line 1, column 9: no reach: 'a ninht'")
    settings.keep(theme="light")
    await settings.saved()
    assert said[-1] == said[0]
    assert 'reach = "a ninht"\npedal = "cc 64"\nguide = "loud"\n' in (home / "player.toml").read_text()


async def test_what_cannot_be_kept_is_said_and_the_file_stays(home: Path) -> None:
    said: list[str] = []
    put(home, "player.toml", "reach = [1, ")
    settings = OwnSettings(said.append, _at_once)
    settings.load()
    settings.keep(theme="light")
    await settings.saved()
    assert said[-1].startswith("NOT SAVED: ")
    assert (home / "player.toml").read_text() == "reach = [1, "


def _at_once(work: Coroutine[Any, Any, None]) -> object:
    return asyncio.ensure_future(work)
