"""The screens, one module each; all but the stand are imported when they are first opened."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.app import StandApp
    from tui.screens.keyed import Keyed


def opened(name: str, app: "StandApp", below: str) -> "Keyed":
    """Return a screen by its name in the key map; `below` names the one it is opened over."""
    if name == "help":
        from tui.screens.help.screen import HelpScreen

        return HelpScreen(app, below)
    if name == "set":
        from tui.screens.set.screen import SetScreen

        return SetScreen(app)
    if name == "chart":
        from tui.screens.chart.screen import ChartScreen

        return ChartScreen(app)
    if name == "keys":
        from tui.screens.keys.screen import KeysScreen

        return KeysScreen(app)
    if name == "shed":
        from tui.screens.practice.screen import ShedScreen

        return ShedScreen(app)
    from tui.screens.sound.screen import SoundScreen

    return SoundScreen(app)
