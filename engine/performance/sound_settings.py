"""How chords are sounded: channel, loudness of each hand, what is held, the pedal, the sound called up on entry."""

from dataclasses import dataclass, replace

from engine.comp_names import RESTRIKES
from engine.performance.events import Timed, control, program
from engine.performance.rhythms import Rhythm
from engine.planning.model import PlannedNote, PlannedStep
from engine.song.model import Song

CHORD_VELOCITY, GUIDE_VELOCITY = 76, 52
"""A guide is softer than a chord that is played. Source: common practice."""

SUSTAIN, BANK_COARSE, BANK_FINE, VOLUME = 64, 0, 32, 7
"""Controllers. Source: MIDI 1.0 Detailed Specification, controller numbers."""

PEDAL_AFTER = 0.08
"""Seconds from a chord to the pedal that catches it. Source: common practice, the pedal goes down after the chord."""

PROGRAMS: dict[str, int] = {"piano": 0, "organ": 16, "pad": 89}
"""A song's sound -> program from 0: acoustic grand, drawbar organ, warm pad. Source: General MIDI System Level 1."""

USUAL = (0, 0, 100)
"""Program (from 0), bank and volume of an instrument at power up. Source: General MIDI System Level 1."""

ACCENT = 14
"""Velocity that an accent adds and a soft stroke takes away. Source: own choice."""

DECAYING = ("piano",)
"""Sounds that fade while a key is held; an organ and a pad sound on."""


def restrike(sound: str, wish: str = RESTRIKES[0]) -> str:
    """Return when shared keys are struck again: as the player wishes where the sound decays, else never."""
    return wish if sound in DECAYING else "never"


@dataclass(frozen=True, slots=True)
class Touch:
    """`left`, `right` and `guide` are velocities; `restrike` (one of RESTRIKES) tells when keys that two chords share
    are struck again; `pedal` sends sustain messages; `program` (from 0), `bank` (14 bits) and `volume` are called up
    when a song is entered, None leaves them alone; `left_channel` is the left hand's own, None that of both; `rhythms`
    are the player's own."""

    channel: int = 1
    left: int = CHORD_VELOCITY
    right: int = CHORD_VELOCITY
    guide: int = GUIDE_VELOCITY
    restrike: str = "never"
    pedal: bool = False
    program: int | None = None
    bank: int | None = None
    volume: int | None = None
    left_channel: int | None = None
    rhythms: tuple[Rhythm, ...] = ()

    @property
    def held(self) -> bool:
        """True when a shared key is not struck again at every chord."""
        return self.restrike != "chord"

    def channel_of(self, hand: str) -> int:
        """Return the channel of a hand (left or right)."""
        return self.left_channel if hand == "left" and self.left_channel is not None else self.channel


NOBODYS = Touch(restrike=RESTRIKES[0])
"""Where nobody's own settings count, as in a file."""


def song_touch(song: Song, own: Touch = NOBODYS, by_song: bool = False) -> Touch:
    """Return how a song sounds: as its `[midi]` table says, else as the player's `own` settings do.

    `by_song` calls up the program that belongs to the song's sound in place of the player's own. A program that the
    song asks for does not go with the player's bank.
    """
    midi = song.midi
    program = PROGRAMS.get(song.sound) if by_song else own.program
    return replace(
        own,
        channel=midi.channel or own.channel,
        restrike=restrike(song.sound, own.restrike),
        program=program if midi.program is None else midi.program - 1,
        bank=own.bank if midi.program is None and midi.bank is None else midi.bank,
        volume=own.volume if midi.volume is None else midi.volume,
    )


def hand_of(step: PlannedStep, hand: str, touch: Touch) -> tuple[PlannedNote, ...]:
    """Return what a hand (left or right) sounds: on one channel a key that both have is the right hand's."""
    if hand == "right":
        return step.right
    doubled = {note.key for note in step.right} if touch.channel_of("left") == touch.channel else set()
    return tuple(note for note in step.left if note.key not in doubled)


def voiced(step: PlannedStep, touch: Touch, guide: bool = False) -> tuple[tuple[int, int], ...]:
    """Return (key, velocity) of a step, low to high; a key that both hands have takes the louder velocity."""
    loud: dict[int, int] = {}
    for hand, velocity in ((step.left, touch.left), (step.right, touch.right)):
        for note in hand:
            loud[note.key] = max(loud.get(note.key, 0), touch.guide if guide else velocity)
    return tuple(sorted(loud.items()))


def entry(touch: Touch) -> tuple[bytes, ...]:
    """Return the messages that call up a song's sound: the bank, if any, before the program, the volume last.

    Source: MIDI 1.0 Detailed Specification, bank select is both controllers and is taken up by the next program change.
    """
    messages: list[bytes] = []
    if touch.bank is not None:
        messages.append(control(BANK_COARSE, touch.bank >> 7, touch.channel))
        messages.append(control(BANK_FINE, touch.bank & 0x7F, touch.channel))
    if touch.program is not None:
        messages.append(program(touch.program, touch.channel))
    if touch.volume is not None:
        messages.append(control(VOLUME, touch.volume, touch.channel))
    return tuple(messages)


def put_back(touch: Touch, before: Touch | None) -> Touch:
    """Return a touch with all that it leaves alone and the song before on its channel called up put back to what an
    instrument has at power up."""
    if before is None:
        return touch
    called = (before.program, before.bank, before.volume)
    wishes = (touch.program, touch.bank, touch.volume)
    given = [
        usual if wish is None and earlier is not None else wish
        for wish, earlier, usual in zip(wishes, called, USUAL, strict=True)
    ]
    return replace(touch, program=given[0], bank=given[1], volume=given[2])


def pedalled(changes: tuple[float, ...], end: float, touch: Touch) -> tuple[Timed, ...]:
    """Return the pedal's messages: up at each change, down when the chord is caught, up at `end` (seconds)."""
    messages: list[Timed] = []
    for at, following in zip(changes, (*changes[1:], end), strict=True):
        messages.append((at, control(SUSTAIN, 0, touch.channel)))
        messages.append((min(at + PEDAL_AFTER, (at + following) / 2), control(SUSTAIN, 127, touch.channel)))
    return (*messages, (end, control(SUSTAIN, 0, touch.channel))) if messages else ()
