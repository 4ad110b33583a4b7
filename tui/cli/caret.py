"""The line of a fault with a caret under its column, as `stillhand check` shows it."""

from functools import lru_cache
from pathlib import Path

from engine.errors import EngineError

WIDTH = 76
"""Characters of a line that are shown; longer ones are cut round the caret."""


def caret_lines(file: str, line: int, column: int) -> tuple[str, ...]:
    """Return the line and the caret, both indented; () when the file or the line is not there to be shown."""
    lines = _lines(file)
    if not 1 <= line <= len(lines) or not lines[line - 1].strip():
        return ()
    text = "".join(sign if sign.isprintable() else " " for sign in lines[line - 1])
    start = max(0, column - WIDTH // 2) if len(text) > WIDTH else 0
    shown = text[start : start + WIDTH].rstrip()
    return f"    {shown}", f"    {' ' * min(column - 1 - start, len(shown))}^"


@lru_cache(maxsize=32)
def _lines(file: str) -> tuple[str, ...]:
    from tui.persistence.store import read_text

    try:
        return tuple(read_text(Path(file)).removeprefix("\ufeff").replace("\r\n", "\n").split("\n"))
    except EngineError:
        return ()
