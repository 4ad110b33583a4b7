"""What holds for every set, as a frozen value: reach, ports, pedals, sound, theme, singers."""

from dataclasses import dataclass, fields

from engine.answer_names import ANSWERS

NO_PORT = "none"
"""In place of a port: nothing sounds. Without a word it is the built-in sound that does."""

THEMES = ("dark", "light", "plain")
NOTATIONS = ("letters", "signs", "numbers")
"""How chords are shown: plain letters (Bbmaj7), signs for the qualities (B♭Δ7), or as numbers of the key (♭7maj7)."""

GUIDES = ("step", "none", "first", "early")
"""What sounds besides the click when a song is counted in or played along (see performance/play_along)."""

SOUNDS_BY_SONG = "song"
"""In place of a program's number: the program that belongs to what the song's file says of its sound."""


@dataclass(frozen=True, slots=True)
class Singer:
    """A singer: the range and the part of it where most of a tune lies well, as MIDI numbers."""

    name: str
    lowest: int
    highest: int
    low_ease: int | None = None
    high_ease: int | None = None


@dataclass(frozen=True, slots=True)
class Player:
    """What holds for every set.

    `reach` is in millimetres (left, right), None while not measured; `register` the lowest and highest key that may be
    played (MIDI numbers), None for the whole piano. `port_out`, `port_in`, `lead`, `follow`, `click_out` and `thru`
    are ports by name; with `both` the built-in sound sounds beside the port; `latency` is in milliseconds;
    `pedal`, `pedal_back` and `pedal_cue` switches (see performance/pedal). `program` is "" (left alone), "song", or a
    number from 1 as printed on instruments; `bank` (14 bits) and `volume` are None where left alone. `hands_step`
    follows what is played; `answers` is what counts as the planned chord; `sensing` lets the instrument notice when we
    vanish. `keys` are (binding, keys) of the player's own; `notes` says what could not be used.
    """

    reach: tuple[float, float] | None = None
    register: tuple[int, int] | None = None
    port_out: str = ""
    port_in: str = ""
    lead: str = ""
    follow: str = ""
    both: bool = False
    click_out: str = ""
    click_volume: int | None = None
    thru: str = ""
    latency: int | None = None
    pedal: str = ""
    pedal_back: str = ""
    pedal_cue: str = ""
    channel: int = 1
    program: str = ""
    bank: int | None = None
    volume: int | None = None
    theme: str = "dark"
    notation: str = "letters"
    layout: str = "player"
    count_in: bool = True
    guide: str = GUIDES[0]
    click: bool = True
    restrike: str = "bar"
    hands_step: bool = False
    answers: str = ANSWERS[0]
    sensing: bool = True
    singers: tuple[Singer, ...] = ()
    keys: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()


SETTINGS = tuple(field.name for field in fields(Player) if field.name != "notes")
"""The keys of the player's file."""
