"""What the instruments are told when a song is opened, and when the player turns the volume."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from tui.audio import BUILT_IN

if TYPE_CHECKING:
    from engine.performance.sound_settings import Touch
    from engine.song.model import Song

Told = tuple[str, tuple[bytes, ...]]
"""Messages, and the role of the port that they go through."""


@dataclass(frozen=True, slots=True)
class Instruments:
    """What sounds: `midi` when the port that plays is a MIDI port, `built_in` the role through which the built-in sound
    is reached ("" when nothing uses it), the player's volumes (0 to 127, None is left alone)."""

    midi: bool
    built_in: str = ""
    click: str = ""
    volume: int | None = None
    click_volume: int | None = None


def instruments(ports: Mapping[str, str], volume: int | None, click_volume: int | None) -> Instruments:
    """Return what sounds, of the ports of each role ("" or missing for none) and the player's volumes."""
    out = ports["out"]
    built_in = next((role for role in ("out", "beside", "click", "thru") if ports.get(role) == BUILT_IN), "")
    click = "click" if ports.get("click") else built_in if out == BUILT_IN else "out"
    if ports.get("click") == BUILT_IN:
        click = built_in
    return Instruments(out not in ("", BUILT_IN), built_in, click, volume, click_volume)


class SongSounds:
    """Tells a song's sound; one per run, since a song is not to inherit the sound of the one before."""

    def __init__(self) -> None:
        self._called: Touch | None = None
        """What the song before called up."""

    def entry(self, song: "Song", touch: "Touch", instruments: Instruments) -> tuple[Told, ...]:
        """Return what calls up the sound of a song: bank and program, then the volume, as far as song or player ask."""
        told: list[Told] = []
        if instruments.midi:
            told.append(("out", self._midi(touch)))
        told += click_volume(instruments)
        if instruments.built_in:
            told.append((instruments.built_in, _built_in(song, touch)))
            told += [(instruments.built_in, (_master(instruments.volume),))]
        return tuple((role, messages) for role, messages in told if messages)

    def _midi(self, touch: "Touch") -> tuple[bytes, ...]:
        from engine.performance.sound_settings import entry, put_back

        given, self._called = put_back(touch, self._called), touch
        return entry(given)


def turned(touch: "Touch", instruments: Instruments) -> tuple[Told, ...]:
    """Return what tells the instruments the volume that the player has just turned to."""
    from engine.performance.events import control
    from engine.performance.sound_settings import VOLUME

    told: list[Told] = []
    if instruments.midi and instruments.volume is not None:
        told.append(("out", (control(VOLUME, instruments.volume, touch.channel),)))
    if instruments.built_in:
        told.append((instruments.built_in, (_master(instruments.volume),)))
    return tuple(told)


def click_volume(instruments: Instruments) -> list[Told]:
    """Return what tells the click's port its volume; the built-in sound is told the usual one too."""
    from engine.performance.events import control
    from engine.performance.rendering import PERCUSSION
    from engine.performance.sound_settings import USUAL, VOLUME

    volume = instruments.click_volume
    if volume is None and instruments.click == instruments.built_in:
        volume = USUAL[2]
    return [] if volume is None else [(instruments.click, (control(VOLUME, volume, PERCUSSION),))]


def _built_in(song: "Song", touch: "Touch") -> tuple[bytes, ...]:
    """Return what the built-in sound is told: it has a sound for each of ours, and a volume over all beside."""
    from engine.performance.sound_settings import PROGRAMS, USUAL, entry

    program = PROGRAMS.get(song.sound, 0) if touch.program is None else touch.program
    volume = USUAL[2] if song.midi.volume is None else song.midi.volume
    return entry(replace(touch, program=program, bank=None, volume=volume))


def _master(volume: int | None) -> bytes:
    from engine.performance.levels import master_volume
    from engine.performance.sound_settings import USUAL

    return master_volume(USUAL[2] if volume is None else volume)
