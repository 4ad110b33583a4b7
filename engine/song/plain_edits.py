"""A file's text changed in places: line ends and the mark at its beginning stay, and what cannot be done is said."""

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any, NoReturn

from engine.errors import ChartError, Fault

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

MARK = "\ufeff"
"""What some editors put at the beginning of a file. Source: Unicode, byte order mark."""

Patch = tuple[int, int, str]
"""Where a piece of a text begins and ends, and what stands there instead."""


def plain(text: str) -> str:
    """Return a file's text as it is read: without the mark at its beginning, lines ending in one sign."""
    return text.removeprefix(MARK).replace("\r\n", "\n")


def like(text: str, changed: str) -> str:
    """Return a plain text with the line ends and the mark at the beginning that `text` has."""
    return _marked(text, changed.replace("\n", "\r\n") if "\r\n" in text else changed)


def edited(text: str, change: Callable[[Any], None]) -> str:
    """Return a file with its values changed in place as tomlkit has them; comments, order and line ends stay.

    Raises:
        ChartError: not valid TOML.
    """
    values = document(text.removeprefix(MARK))
    change(values)
    return _marked(text, values.as_string())


def document(text: str) -> "TOMLDocument":
    """Return a text's values as they can be changed.

    Raises:
        ChartError: not valid TOML.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        return tomlkit.parse(text)
    except TOMLKitError as error:
        raise ChartError("", (Fault(1, 1, f"the file cannot be changed: {error}", "mend it first"),)) from None


def _marked(text: str, changed: str) -> str:
    return MARK + changed if text.startswith(MARK) else changed


def patched(text: str, patches: Iterable[Patch]) -> str:
    """Return a text with pieces of it replaced; they must not overlap."""
    for start, end, words in sorted(patches, reverse=True):
        text = text[:start] + words + text[end:]
    return text


def refuse(found: str, hint: str) -> NoReturn:
    """Say that a file cannot be changed so.

    Raises:
        ChartError: always.
    """
    raise ChartError("", (Fault(1, 1, found, hint),))


def no_section(name: str) -> NoReturn:
    """Say that a section that is to be changed is not in its file.

    Raises:
        ChartError: always.
    """
    refuse(f"there is no section {name} any more", "it was changed elsewhere")
