"""A line of text that is typed at the top of a screen, below its question."""

import contextlib

from textual import actions, events
from textual.actions import SkipAction
from textual.binding import Binding
from textual.widgets import Input

_ACTIONS = {
    key: actions.parse(binding.action)
    for binding in Binding.make_bindings(Input.BINDINGS)
    for key in [binding.key]
    if binding.action != "submit"
}
"""Keystroke -> (namespace, action, arguments) of Textual's own line."""


class LineInput(Input):
    """Textual's line, whose screen hands it the keystrokes: sent here directly, they could overtake each other."""

    DEFAULT_CSS = """
    LineInput { layer: over; position: absolute; offset: 0 1; width: 100%; }
    """

    def __init__(self, text: str) -> None:
        super().__init__(_visible(text), compact=True, select_on_focus=False)
        self.cursor_blink = False
        self.cursor_position = len(text)

    def choose_all(self) -> None:
        """Select what stands there, so that what is typed next takes its place."""
        self.action_select_all()

    def take(self, event: events.Key) -> None:
        """Write or move as a keystroke says; one that means nothing in a line does nothing."""
        if event.key in _ACTIONS:
            _, name, arguments = _ACTIONS[event.key]
            with contextlib.suppress(SkipAction):  # nothing is selected to be copied
                getattr(self, f"action_{name}")(*arguments)
        elif event.character is not None and event.character.isprintable():
            self.replace(event.character, *self.selection)

    def take_text(self, text: str) -> None:
        """Write pasted text in one line."""
        self.replace(" ".join(_visible(text).split()), *self.selection)


def _visible(text: str) -> str:
    """Return text without what would steer the terminal; it stands in files, and comes in with what is pasted."""
    return text if text.isprintable() else "".join(sign if sign.isprintable() else " " for sign in text)
