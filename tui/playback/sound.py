"""What the stand sounds, through which ports and how. Without a port everything else goes on.

The clock process is started when it is first needed, and only then is anything of MIDI imported.
"""

import asyncio
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from tui.audio import BUILT_IN
from tui.persistence.player import SOUNDS_BY_SONG
from tui.playback.instrument_watch import InstrumentWatch
from tui.playback.song_sound import Instruments, SongSounds, click_volume, instruments, turned
from tui.session.session import Session

if TYPE_CHECKING:
    from engine.performance.play_along import Ride
    from engine.performance.rhythms import Rhythm
    from engine.performance.sound_settings import Touch
    from engine.performance.timeline import Performance
    from engine.planning.model import PlannedStep
    from engine.song.model import Song
    from tui.midi.clock import Clock, ClockEvent
    from tui.persistence.player import Player

CAUTION = "turn headphones down first: loud ones damage hearing"

Heard = Callable[["ClockEvent"], None]


class Sound:
    """The sounding side of the stand. `heard` is called from a thread of the clock's and must only post a message."""

    def __init__(self, session: Session, heard: Heard | None = None) -> None:
        self.session = session
        self.heard = heard
        self.port = BUILT_IN
        self.channel = 1
        self.ports: dict[str, str] = {}
        """Role (in, lead, follow, click, thru) -> the port chosen for it."""
        self.guide = "step"
        self.click = True
        self.counted = True
        self.program = ""
        self.bank: int | None = None
        self.volume: int | None = None
        self.click_volume: int | None = None
        self.both = False
        """Whether the built-in sound sounds beside a MIDI port."""
        self.restrike = "bar"
        """When keys that two chords share are struck again, on sounds that decay: one of RESTRIKES."""
        self.sensing = True
        """Active sensing (see midi/sounding). On, as most keyboards send it: a pulled cable or a power cut must not
        leave a chord hanging. Off for a network so uneven that it would cut sound off."""
        self.playing: Performance | None = None
        """What is being played in time, None once it is over or stopped."""
        self._song_sounds = SongSounds()
        self._rhythms: tuple[Rhythm, ...] | None = None
        self._begun: Performance | None = None
        """What the clock has been given of it."""
        self._watch = InstrumentWatch()
        self._clock: Clock | None = None

    @property
    def clock(self) -> "Clock":
        """The clock, started when first asked for."""
        if self._clock is None:
            from tui.midi.clock import Clock

            self._clock = Clock(_log(), self.heard, "tui.playback.sound_process", (BUILT_IN,))
            self._clock.start()
            if self.port:
                self._clock.open(self.port)
            if self.beside:
                self._open_beside()
            self._clock.sense(self.sensing)
        return self._clock

    @property
    def started(self) -> bool:
        return self._clock is not None

    @property
    def status(self) -> str:
        """One line for the player: what sounds through what."""
        if self._clock is None:
            return self.port or "no port"
        return self._clock.status

    def use(self, port: str) -> None:
        """Play through the port of this name from now on; "" for none. The built-in sound waits until something is to
        sound, so that starting is not slower for it."""
        self.port = port
        if self.started:
            self.clock.open(port or None)
            self._open_beside()
        elif port not in ("", BUILT_IN):
            self.clock  # noqa: B018 (starts it, with the port)

    def use_for(self, role: str, port: str) -> None:
        """Use a port as "in" (the player's keyboard), "lead" or "follow" (other copies), "click" (for the click alone)
        or "thru" (for what the player plays); "" for none."""
        if port != self.ports.get(role, ""):
            self.ports[role] = port
            self.clock.open(port or None, role)
            if role in ("click", "thru"):
                self.enter()

    def take(self, player: "Player") -> None:
        """Take over the player's settings; ports are opened by `use` and `use_for`."""
        self.channel, self.guide, self.click = player.channel, player.guide, player.click
        self.counted = player.count_in
        self.program, self.bank, self.volume = player.program, player.bank, player.volume
        self.both, self.click_volume = player.both, player.click_volume
        self.restrike = player.restrike
        self.sense(player.sensing)

    def sense(self, on: bool) -> None:
        """Send active sensing or not."""
        self.sensing = on
        if self._clock is not None:
            self._clock.sense(on)

    def touch(self, song: "Song | None" = None) -> "Touch":
        """Return how chords are sounded in `song`, with what is called up on entering it: what the song asks for, else
        what the player's settings say."""
        from engine.performance.sound_settings import Touch, song_touch

        own = Touch(
            channel=self.channel,
            program=int(self.program) - 1 if self.program.isdecimal() else None,
            bank=self.bank,
            volume=self.volume,
            restrike=self.restrike,
            rhythms=self.rhythms(),
        )
        if song is None:
            return replace(own, restrike="never")
        return song_touch(song, own, self.program == SOUNDS_BY_SONG)

    def rhythms(self) -> "tuple[Rhythm, ...]":
        """Return the player's own comping rhythms, read once; what is wrong with their file is said."""
        if self._rhythms is None:
            from tui.persistence.own_rhythms import own_rhythms

            self._rhythms, fault = own_rhythms()
            if fault:
                self.session.say(fault.splitlines()[0], alarm=True)
        return self._rhythms

    def here(self) -> "Touch":
        """Return how chords are sounded in the song that is open."""
        place = self.session.now.here
        return self.touch(place.song if place is not None else None)

    def ride(self, first: int, last: int, loop: bool = False) -> "Ride":
        """Return how steps `first` to `last` of the open song are played along."""
        from engine.performance.play_along import Ride
        from tui.playback.leading import led

        return Ride(
            touch=self.here(),
            guide=self.guide,
            click=self.click,
            counted=self.counted,
            first=first,
            last=last,
            loop=loop,
            lead=bool(self.ports.get("lead")),
            song_number=led(self.session.now)[0],
        )

    def enter(self) -> None:
        """Call up the sound of the open song, as far as the song or the player asks for it."""
        place = self.session.now.here
        if self._clock is None or place is None:
            return
        for role, messages in self._song_sounds.entry(place.song, self.touch(place.song), self._instruments()):
            self.clock.send(messages, role)

    def _instruments(self) -> Instruments:
        """Return what sounds, through which ports."""
        ports = {"out": self.port, "beside": BUILT_IN if self.beside else "", **self.ports}
        return instruments(ports, self.volume, self.click_volume)

    @property
    def beside(self) -> bool:
        """True when the built-in sound sounds beside a MIDI port."""
        return self.both and self.port not in ("", BUILT_IN)

    def sound_both(self, both: bool) -> None:
        """Let the built-in sound sound beside the MIDI port, or not."""
        self.both = both
        if self.started:
            self._open_beside()
            self.enter()

    def _open_beside(self) -> None:
        self.clock.open(BUILT_IN if self.beside else None, "beside")

    def turn_volume(self, levels: int) -> str:
        """Turn what sounds up or down by so many levels of ten; return in words how loud it is now."""
        from engine.performance.levels import LOUD, level_of, level_words, louder

        self.volume = louder(self.volume, levels)
        if self._clock is not None:
            for role, messages in turned(self.here(), self._instruments()):
                self.clock.send(messages, role)
        caution = f"; {CAUTION}" if levels > 0 and level_of(self.volume) >= LOUD else ""
        return f"volume {level_words(self.volume)}{caution}"

    def turn_click(self, volume: int | None) -> None:
        """Give the click a volume of its own (0 to 127), None for its instrument's."""
        self.click_volume = volume
        if self._clock is not None:
            for role, messages in click_volume(self._instruments()):
                self.clock.send(messages, role)

    def hear(self, event: "ClockEvent") -> None:
        """Notice that the instrument has come or gone: it is told the song's sound again when it comes. A silence that
        nobody could send is said."""
        if event.kind == "alarm":
            self.session.say(event.text, alarm=True)
        if event.kind != "status" or self._clock is None:
            return
        if self._watch.seems_mute(self.port, event.text):
            self.session.say(event.text, alarm=True)
        seen = self._watch.seen(self.port, self._clock.ready)
        if seen.came:
            self.enter()
            self.lead()
        if seen.back or seen.lost:
            self.session.say(self._clock.status, alarm=seen.lost)

    def lead(self) -> None:
        """Tell the copies that follow where we are."""
        if self._clock is not None and self.ports.get("lead") and self.session.now.steps:
            from tui.playback.leading import led

            self._clock.lead(*led(self.session.now))

    def play(self, performance: "Performance") -> None:
        """Play in time; what was playing stops."""
        self.playing = performance
        self.session.tasks.start(self._play(performance))

    async def _play(self, performance: "Performance") -> None:
        """Play as soon as the clock's process is there."""
        await self.there()
        if self.playing is performance:
            self._begun = performance
            self.clock.play(performance, delay=0.05)

    async def there(self) -> None:
        """Wait for the clock's process: the first time it has to be started."""
        clock = self.clock
        for _ in range(100):
            if clock.process_id is not None:
                break
            await asyncio.sleep(0.03)

    def go_on(self, performance: "Performance") -> None:
        """Play another performance of the same steps in place of the one that is played, from its next step on."""
        if self._begun is None or self.playing is not self._begun:
            self.play(performance)
            return
        self.playing = self._begun = performance
        self.clock.go_on(performance)

    def mute(self) -> None:
        """End the chord that sounds and strike no other until it goes on; the click goes on."""
        if self._clock is not None:
            self._clock.mute()

    def strike(self, step: "PlannedStep", seconds: float = 2.0) -> None:
        """Sound a chord for a while, as soon as the clock's process is there."""
        self.session.tasks.start(self._strike(step, seconds))

    async def _strike(self, step: "PlannedStep", seconds: float) -> None:
        await self.there()
        self.clock.sound_step(step, self.here(), seconds=seconds)

    def cue(self) -> None:
        if self._clock is not None:
            self._clock.cue()

    def hush(self) -> None:
        """Stop what is played in time and what we sound."""
        self.playing = None
        if self._clock is not None:
            self._clock.silence()

    def silence(self) -> None:
        """Stop everything that sounds."""
        self.playing = None
        if self._clock is not None:
            self._clock.panic()

    def close(self) -> None:
        if self._clock is not None:
            self._clock.close()


def _log() -> Path | None:
    from tui.persistence import store

    folder = store.data_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return folder / "midi.log"
