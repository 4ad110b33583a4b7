"""The screens, a folder each; all but the stand are imported when they are first opened."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tui.screens.context import Context
    from tui.screens.keyed import Keyed


def opened(name: str, context: "Context", below: str) -> "Keyed":
    """Return a screen by its name in the command table; `below` names the one it is opened over."""
    if name == "help":
        from tui.screens.help.screen import HelpScreen

        return HelpScreen(context, below)
    if name == "set":
        from tui.screens.set.screen import SetScreen

        return SetScreen(context)
    if name == "chart":
        from tui.screens.chart.screen import ChartScreen

        return ChartScreen(context)
    if name == "keys":
        from tui.screens.keys.screen import KeysScreen

        return KeysScreen(context)
    if name == "song":
        from tui.screens.song.screen import SongScreen

        return SongScreen(context)
    if name == "form":
        from tui.screens.form.screen import FormScreen

        return FormScreen(context)
    if name == "shed":
        from tui.screens.practice.screen import ShedScreen

        return ShedScreen(context)
    from tui.screens.sound.screen import SoundScreen

    return SoundScreen(context)
