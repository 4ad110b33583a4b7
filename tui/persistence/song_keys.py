"""The texts that songs were written in, kept beside the player's data, so that a key kept for good goes back exactly.

Names of notes have no sure way back: a section in Gb, moved and moved back, may come home in F#. So every further key
is written from the text that the player wrote, as long as nobody changed the moved file meanwhile.
"""

import contextlib
import hashlib
import json

from engine.song.file_transposing import in_key
from tui.persistence.files import StoreError, read_text, save
from tui.persistence.folders import data_folder

MOST = 100
"""Songs whose first text is known; the one that was moved longest ago is forgotten first (own choice)."""


def text_in_key(text: str, key: str) -> str:
    """Return a song file in another key, from the text that it was written in where that is known.

    Raises:
        ChartError: the file has faults, or something in it cannot be moved by itself.
        ValueError: `key` is not a key.
    """
    return in_key(_kept().get(_name(text), text), key)


def remember(before: str, after: str) -> None:
    """Keep what a song's file was written in before its key was changed; a disk that takes nothing is passed over."""
    kept = _kept()
    first = kept.pop(_name(before), before)
    kept.pop(_name(after), None)
    if after != first:
        kept[_name(after)] = first
    with contextlib.suppress(StoreError):
        save(data_folder() / "keys.json", json.dumps(dict(list(kept.items())[-MOST:]), indent=1) + "\n")


def _kept() -> dict[str, str]:
    """Return the first texts by the name of what they have become; a file that is spoilt says nothing."""
    try:
        found = json.loads(read_text(data_folder() / "keys.json"))
        return {str(name): text for name, text in found.items() if isinstance(text, str)}
    except (StoreError, ValueError, AttributeError, RecursionError):
        return {}


def _name(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "replace")).hexdigest()
