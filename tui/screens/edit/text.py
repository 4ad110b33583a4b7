"""The text of a song's file: faults are underlined where they stand, Tab completes what is typed."""

from typing import ClassVar

from rich.style import Style
from rich.text import Text
from textual import events

from engine.song.completing import completions
from tui.widgets.text_editor import TextEditor

Fault = tuple[int, int, str]
"""Line and column (from 1) of a fault, and what it says."""


class SongText(TextEditor):
    """A text editor that shows `faults` in the text and offers what may follow."""

    FAULT: ClassVar[Style] = Style(underline=True, bold=True, reverse=True)

    faults: tuple[Fault, ...] = ()

    def get_line(self, line_index: int) -> Text:
        line = super().get_line(line_index)
        for row, column, _ in self.faults:
            if row == line_index + 1:
                start = min(column - 1, max(0, len(line.plain) - 1))
                line.stylize(self.FAULT, start, _word_end(line.plain, start))
        return line

    def mark(self, faults: tuple[Fault, ...]) -> None:
        """Show other faults."""
        if faults != self.faults:
            self.faults = faults
            self._line_cache.clear()
            self.refresh()

    @property
    def offered(self) -> tuple[str, ...]:
        """What may stand for the word before the cursor, the likeliest first."""
        return self._completions()[1] if self.selection.is_empty else ()

    def _completions(self) -> tuple[int, tuple[str, ...]]:
        return completions(self.text, self._index())

    def _index(self) -> int:
        """Return the offset of the cursor in the text."""
        row, column = self.cursor_location
        return sum(len(line) + 1 for line in self.text.split("\n")[:row]) + column

    async def _on_key(self, event: events.Key) -> None:
        if event.key == "tab" and self.offered:
            event.stop()
            event.prevent_default()
            start, words = self._completions()
            row, column = self.cursor_location
            self.replace(words[0], (row, column - (self._index() - start)), (row, column))
            return
        await super()._on_key(event)


def _word_end(line: str, start: int) -> int:
    """Return where the word at a place of a line ends."""
    end = start
    while end < len(line) and line[end] not in " \t|":
        end += 1
    return max(end, start + 1)
