"""The player's own settings for every set: taken up at the start, kept when they are changed."""

import asyncio
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from tui.input import keymap
from tui.persistence.player import Player

if TYPE_CHECKING:
    from tui.app import StandApp


class OwnSettings:
    """Brings the player's file and the application together."""

    def __init__(self, app: "StandApp") -> None:
        self.app = app
        self._keeping = asyncio.Lock()
        self._kept = Player()
        """The settings as the file has them."""

    def load(self) -> None:
        """Take up the player's file; what is wrong with it is said."""
        from tui.persistence import store

        player = store.load_player()
        self.app.player = self._kept = player
        own = dict(player.keys)
        faults = keymap.faults(own)
        if faults:
            self.app.desk.trouble["keys"] = f"your keys are not used: {faults[0]}"
        else:
            self.app.keymap = replace(self.app.keymap, own=own)
        if player.reach:
            self.app.desk.reach = player.reach
        self.app.desk.register = player.register
        if not self.app.without_colour:
            self.app.use_theme(player.theme)
        self.app.chord_style = "signs" if player.notation == "signs" else "words"
        self.app.numbers = player.notation == "numbers"
        self.app.sound.take(player)
        self.app.port = self.app.port or player.port_out or None
        if player.notes:
            self.app.desk.trouble["player"] = f"player.toml: {player.notes[0].removeprefix('player.toml ')}"

    def keep(self, **changes: Any) -> None:
        """Keep a setting of the player's for every set."""
        from tui.persistence import store

        if self.app.player is None:
            return
        self.app.player = replace(self.app.player, **changes)
        player = self.app.player

        async def keep() -> None:
            # One after the other: two threads that save at once could leave the older settings.
            async with self._keeping:
                if player is not self.app.player:
                    return
                try:
                    await asyncio.to_thread(store.save_player, player, self._kept)
                except store.StoreError as fault:
                    self.app.desk.trouble["player"] = f"NOT SAVED: {str(fault).splitlines()[0]}"
                else:
                    self._kept = player

        self.app.run_worker(keep(), group="player")
