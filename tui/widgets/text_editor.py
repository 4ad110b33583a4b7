"""Text of several lines that is written by hand."""

from rich.text import Text
from textual.widgets import TextArea

INSTEAD, INSTEAD_ASCII = "\N{REPLACEMENT CHARACTER}", "?"


class TextEditor(TextArea):
    """Textual's own, which would send a terminal whatever a file holds: here a character that steers a terminal, or
    that nobody can see, is drawn as a sign of one column and stays in the text as it is."""

    def __init__(self, text: str, ascii_only: bool = False) -> None:
        super().__init__(text, show_line_numbers=True, soft_wrap=False, tab_behavior="indent")
        self._instead = INSTEAD_ASCII if ascii_only else INSTEAD

    def get_line(self, line_index: int) -> Text:
        line = super().get_line(line_index)
        if not line.plain.isprintable():
            # Rich takes some controls out of a Text by itself, but the columns must stay those of the file.
            seen = (
                sign if sign.isprintable() or sign == "\t" else self._instead
                for sign in self.document.get_line(line_index)
            )
            return Text("".join(seen), end="", no_wrap=True)
        return line
