"""What an import gives: a song, its file, and everything that had to be decided for the player."""

from dataclasses import dataclass

from engine.errors import EngineError
from engine.formats.import_choices import Answers, Choice, doubtful_symbols
from engine.song.model import Song


@dataclass(frozen=True, slots=True)
class Imported:
    """A song as read, its song file (TOML), and the doubts: one line each on what was guessed or left out.

    `choices` are those of the doubts that can be settled the other way.
    """

    song: Song
    text: str
    doubts: tuple[str, ...] = ()
    choices: tuple[Choice, ...] = ()


def imported(song: Song, text: str, doubts: list[str], choices: list[Choice], answers: Answers) -> Imported:
    """Return an import with its doubts and those of the reader about its symbols, each once."""
    lines, flips = doubtful_symbols(song.doubts, answers)
    return Imported(song, text, tuple(dict.fromkeys(doubts + lines)), (*choices, *flips))


@dataclass(eq=False)
class NotImported(EngineError):
    """A file or text that gives no song: what was found, what to try."""

    found: str
    hint: str

    def __str__(self) -> str:
        return f"{self.found}, {self.hint}"
