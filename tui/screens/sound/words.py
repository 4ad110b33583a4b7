"""What stands in the rows of the sound screen."""

from typing import TYPE_CHECKING

from engine.performance.levels import level_words
from tui.persistence.player import SOUNDS_BY_SONG

if TYPE_CHECKING:
    from engine.song.model import Midi

CAUTION = (
    "Keep monitors and headphones as low as lets you play: loud ones damage hearing. "
    "If your ears ring or sounds are dull afterwards, rest them and ask a doctor or an audiologist."
)
"""The usual caution (common practice); who treats hearing decides."""

GUIDE_WORDS = {
    "none": "none: the click alone", "first": "the first chord, on the last beat of the count",
    "step": "every chord in its place", "early": "every chord a beat early, quietly",
}  # fmt: skip

RESTRIKE_WORDS = {"bar": "in every bar", "chord": "at every chord", "never": "never: held as planned"}

ANSWER_WORDS = {
    "planned": "as planned, in any octave over its bass", "octaves": "also with octaves and the root added",
    "own": "also your own voicing of it",
}  # fmt: skip

SWITCH_WORDS = {"pedal": "foot switch: next chord", "pedal_back": "foot switch: back", "pedal_cue": "foot switch: cue"}

ROLE_WORDS = {
    "click": "click on a port of its own", "in": "listen to (your keyboard, your pedal)",
    "thru": "pass on what you play to", "lead": "lead other copies on", "follow": "follow another copy on",
}  # fmt: skip

SETTINGS = {"click": "click_out", "in": "port_in", "thru": "thru", "lead": "lead", "follow": "follow"}
"""Role of a port -> the player's setting that keeps it."""


def wishes_words(midi: "Midi") -> str:
    """Return what a song asks of the instrument: channel 2, program 17, bank 87 2 (coarse and fine), volume 100."""
    bank = None if midi.bank is None else f"{midi.bank >> 7} {midi.bank & 0x7F}"
    values = {"channel": midi.channel, "program": midi.program, "bank": bank, "volume": midi.volume}
    return ", ".join(f"{name} {value}" for name, value in values.items() if value is not None)


def yes_no(value: bool) -> str:
    return "yes" if value else "no"


def program_words(program: str) -> str:
    return {"": "left alone", SOUNDS_BY_SONG: "by the song's sound (General MIDI)"}.get(program, program)


def volume_words(volume: int | None) -> str:
    """Return a volume (0 to 127) in figures and words, or that it is left alone."""
    return "left alone" if volume is None else f"{volume} ({level_words(volume)})"


def latency_words(latency: int | None) -> str:
    """Return a measured latency in words."""
    return "not measured: Enter clicks eight times" if latency is None else f"{latency} ms (Enter measures it anew)"
