"""All keys of the screen under it, and what they do; on the stand also how to read the picture."""

from itertools import zip_longest
from typing import ClassVar

from tui.screens.context import Context
from tui.screens.page import Page
from tui.screens.stand.tour import TOUR
from tui.session.notices import all_of
from tui.widgets.cells import Rows, text_row, text_rows
from tui.widgets.chart import LEGEND as BARS_LEGEND
from tui.widgets.keyboard import LEGEND as KEYBOARD_LEGEND
from tui.widgets.moves import LEGEND as MOVES_LEGEND

KEYS_WIDTH = 22
"""Columns of the keys' names."""
TITLES = {
    "stand": "the stand", "set": "the set", "chart": "the song in bars", "keys": "the twelve keys", "sound": "sound",
    "help": "help", "shed": "the shed", "song": "how a song is played", "form": "the song as it is written",
}  # fmt: skip


class HelpScreen(Page):
    """Lists the keys of another screen."""

    kind: ClassVar[str] = "help"

    def __init__(self, context: Context, about: str) -> None:
        super().__init__(context)
        self.about = about
        self.first = 0
        self._room = 1
        self._lines = 0

    def heading(self) -> tuple[str, str]:
        rest = self._lines - self.first - self._room
        return (
            f"Keys of {TITLES.get(self.about, self.about)}",
            f"{rest} lines more: {self.context.keymap().sign('help.down')}" if rest > 0 else "",
        )

    def lines(self, width: int) -> Rows:
        rows: Rows = [row for words in all_of(self.session.notices) for row in text_rows(f"! {words}", width, "warn")]
        if rows:
            rows.append(text_row("", width, "text"))
        if self.about == "stand":
            rows += [row for line in TOUR for row in text_rows(line, width, "cue")]
            rows.append(text_row("", width, "text"))
        for keys, words in self.context.keymap().help(self.about):
            named = text_rows(keys, KEYS_WIDTH - 1, "title")
            told = text_rows(words, width - KEYS_WIDTH, "text", indent=0)
            empty = text_row("", KEYS_WIDTH - 1, "title"), text_row("", width - KEYS_WIDTH, "text")
            for left, right in zip_longest(named, told):
                rows.append((left or empty[0]) + text_row("", 1, "text") + (right or empty[1]))
        if self.about == "stand":
            rows.append(text_row("", width, "text"))
            rows += text_rows(f"moves: {MOVES_LEGEND}", width, "dim")
            rows += text_rows(f"keyboard: {KEYBOARD_LEGEND}", width, "dim")
        if self.about == "chart":
            rows += [text_row("", width, "text"), *text_rows(f"signs: {BARS_LEGEND}", width, "dim")]
        return rows

    def body(self, width: int, height: int) -> Rows:
        lines = self.lines(width)
        self._room, self._lines = max(1, height), len(lines)
        self.first = max(0, min(self.first, len(lines) - height))
        return lines[self.first : self.first + height]

    def action_move(self, direction: int) -> None:
        self.first = max(0, self.first + direction * max(1, self._room - 2))
        self.show_now()
