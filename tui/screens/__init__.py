"""The screens, one module each; all but the stand are imported when they are first opened."""

from collections.abc import Callable
from typing import Any

Opened = Callable[[Any, Any], Any]


def _help(app: Any, below: Any) -> Any:
    from tui.screens.help import HelpScreen

    return HelpScreen(app, below.name or "stand")


SCREENS: dict[str, Opened] = {"help": _help}
"""Name -> what makes the screen, given the application and the screen under it."""
