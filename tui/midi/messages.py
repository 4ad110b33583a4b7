"""What the interface and its MIDI processes say to each other: one value each, one line on the pipe.

The lines are pickled, so that every value comes out as it went in; both ends are ours and of the same version.
"""

import base64
import pickle
from dataclasses import dataclass

from engine.performance.events import Timed
from engine.performance.following import Place
from engine.performance.timeline import Performance

SPARE = "spare"
"""Argument of a clock's process that waits to take another's place: it has what takes long behind it."""


def to_line(message: object) -> bytes:
    """Return a message as one line of text."""
    return base64.b64encode(pickle.dumps(message, pickle.HIGHEST_PROTOCOL)) + b"\n"


def from_line(line: bytes) -> object:
    """Return the message of a line.

    Raises:
        ValueError: no message of ours, such as what a library has printed.
    """
    try:
        return pickle.loads(base64.b64decode(line.strip(), validate=True))
    except (pickle.PickleError, EOFError, AttributeError, ImportError, IndexError, TypeError, KeyError) as error:
        raise ValueError(f"no message: {line[:80]!r}") from error


@dataclass(frozen=True, slots=True)
class Alive:
    """A sign of life, both ways."""


# To the clock's process


@dataclass(frozen=True, slots=True)
class Open:
    """Open the port `name` for a role (see open_ports and port_words), or close that role when it is empty."""

    role: str
    name: str = ""


@dataclass(frozen=True, slots=True)
class StandBy:
    """Have the port `out` open and send nothing through it, until told to open it: the clock that plays may die. An
    empty name closes it."""

    out: str


@dataclass(frozen=True, slots=True)
class More:
    """Messages of a performance that is about to be played."""

    messages: tuple[Timed, ...]


@dataclass(frozen=True, slots=True)
class Play:
    """Play what was collected with the marks of `rest`, from `begin` on (monotonic seconds)."""

    rest: Performance
    begin: float


@dataclass(frozen=True, slots=True)
class GoOn:
    """Play what was collected in place of what is playing, from its next step on."""

    rest: Performance


@dataclass(frozen=True, slots=True)
class Mute:
    """Release the chord and strike no other (the click goes on) until told to play or to go on."""


@dataclass(frozen=True, slots=True)
class Strike:
    """Sound a chord of (key, velocity) in place of the one before, until the next or for `seconds`."""

    notes: tuple[tuple[int, int], ...]
    channel: int
    legato: bool = False
    seconds: float | None = None


@dataclass(frozen=True, slots=True)
class Send:
    """Send messages now, through the port of one role or, without one, where music and system messages go."""

    messages: tuple[bytes, ...]
    role: str = ""


@dataclass(frozen=True, slots=True)
class Lead:
    """Tell followers a place: the song of the set (from 0) and the sixteenth in it."""

    song: int
    sixteenth: int


@dataclass(frozen=True, slots=True)
class Sensing:
    """Send active sensing from the next note on, or leave it."""

    on: bool


@dataclass(frozen=True, slots=True)
class Leave:
    """Silence what sounds and go when the pipe ends. A pipe that ends without it belonged to an interface that died."""


@dataclass(frozen=True, slots=True)
class Cue:
    """Leave the loop at its end."""


@dataclass(frozen=True, slots=True)
class Silence:
    """Stop playing and let nothing sound on the channels that were used."""


@dataclass(frozen=True, slots=True)
class Panic:
    """As silence, on all sixteen channels; answered by `Silenced` of the same number."""

    number: int = 0


# From the clock's process


@dataclass(frozen=True, slots=True)
class Opening:
    """A port is being opened, which may take a while."""


@dataclass(frozen=True, slots=True)
class Opened:
    """A role has its port, of this full name."""

    role: str
    name: str


@dataclass(frozen=True, slots=True)
class NotOpened:
    """A role has no port, and why in words for the player."""

    role: str
    why: str


@dataclass(frozen=True, slots=True)
class Marked:
    """A mark of the performance has come: beat, step, pass, rung or end."""

    kind: str
    value: int
    at: float


@dataclass(frozen=True, slots=True)
class Played:
    """The player's keyboard or a foot switch sent a message."""

    data: bytes
    at: float


@dataclass(frozen=True, slots=True)
class LeaderAt:
    """Where the leader is that is followed."""

    place: Place
    tempo: float | None
    at: float


@dataclass(frozen=True, slots=True)
class Silenced:
    """A panic of this number has been sent."""

    number: int


# To and from the process that lists the ports


@dataclass(frozen=True, slots=True)
class Charge:
    """What is to be silenced when all others are gone: the ports that sound, and the number of the clock's process."""

    outs: tuple[str, ...] = ()
    clock: int = 0


@dataclass(frozen=True, slots=True)
class Hush:
    """Silence the port of this name now, in place of a clock that is gone; answered by `Silenced`.

    `again` after a death: the clock that comes sends it once more, since a JACK server that has lost clients may lose
    what it is sent in that moment.
    """

    out: str
    number: int = 0
    again: bool = False


@dataclass(frozen=True, slots=True)
class Ports:
    """The ports there are, and the MIDI systems they belong to; `trouble` is "", library (not installed), system (none
    answers) or gone (the sound server has ended)."""

    outputs: tuple[str, ...] = ()
    inputs: tuple[str, ...] = ()
    trouble: str = ""
    detail: str = ""
    systems: tuple[str, ...] = ()
