"""What was written anew in songs' own files, so that undo can write it back."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class BarEdit:
    """A bar of a song's own file written anew: what stands between its bar lines before and after."""

    file: str
    section: str
    bar: int
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class KeyEdit:
    """A song's own file put into another key for good: its whole text before and after."""

    file: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class TextEdit:
    """A song's own file written anew by hand: its whole text before and after."""

    file: str
    old: str
    new: str


Edit = BarEdit | KeyEdit | TextEdit
