"""The player's own settings for every set: read at the start, kept when they are changed."""

import asyncio
from collections.abc import Callable, Coroutine
from dataclasses import replace
from typing import Any

from tui.persistence.player import Player
from tui.persistence.saved_state import load_player, save_player
from tui.persistence.store import StoreError

Start = Callable[[Coroutine[Any, Any, None]], object]
"""Has something done beside the keys."""


class OwnSettings:
    """The player's file for one run; `complain` is told what cannot be read or kept, "" once all is well."""

    def __init__(self, complain: Callable[[str], None], start: Start) -> None:
        self.player = Player()
        self._complain, self._start = complain, start
        self._keeping = asyncio.Lock()
        self._kept = Player()
        """The settings as the file has them."""

    def load(self) -> Player:
        """Read the player's file; what is wrong with it is said."""
        self.player = self._kept = load_player()
        if self.player.notes:
            self._complain(_told(self.player))
        return self.player

    def keep(self, **changes: Any) -> None:
        """Keep settings for every set."""
        self.player = replace(self.player, **changes)
        self._start(self._save(self.player))

    async def saved(self) -> None:
        """Wait until the settings are kept, or it is said why not."""
        await self._save(self.player)

    async def _save(self, player: Player) -> None:
        # One after the other: two threads that save at once could leave the older settings.
        async with self._keeping:
            if player is not self.player or player is self._kept:
                return
            try:
                await asyncio.to_thread(save_player, player, self._kept)
            except StoreError as fault:
                self._complain(f"NOT SAVED: {str(fault).splitlines()[0]}")
            else:
                self._kept = player
                self._complain(_told(player))


def _told(player: Player) -> str:
    """Return what could not be used of the player's file, "" when all could."""
    if not player.notes:
        return ""
    more = f" (and {len(player.notes) - 1} more: stillhand check)" if len(player.notes) > 1 else ""
    return f"player.toml{more}: {player.notes[0]}"
