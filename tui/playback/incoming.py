"""What comes in from the clock's process: beats and steps, the player's own keys and switches, a leader's place."""

from collections.abc import Callable
from time import monotonic
from typing import TYPE_CHECKING

from tui.planning.plans import Plans
from tui.playback.sound import Sound
from tui.playback.step_sound import StepSound
from tui.playback.take import Take
from tui.playback.transport import Transport
from tui.session.rehearsal import NotThere, Rehearsal
from tui.session.session import Session

if TYPE_CHECKING:
    from engine.planning.model import Plan
    from engine.song.model import Song
    from tui.midi.clock import ClockEvent
    from tui.persistence.player import Player
    from tui.playback.latency_check import LatencyCheck
    from tui.playback.player_hands import Hands

NO_KEYBOARD = "choose a port to listen to on the sound screen"

SETTLING = 0.06
"""Seconds after a key goes down in which the others of its chord may follow (performance/listening waits 0.05)."""


class Hearing:
    """Does what is heard; one per run. `tread` is called with what a foot switch asks for, `later` calls back after so
    many seconds, `show` when there is something new to see, `player` gives the player's settings."""

    def __init__(
        self,
        session: Session,
        plans: Plans,
        sound: Sound,
        step_sound: StepSound,
        transport: Transport,
        player: "Callable[[], Player]",
        tread: Callable[[str], None],
        later: Callable[[float, Callable[[], None]], object],
        show: Callable[[], None],
    ) -> None:
        self.session, self.plans, self.transport = session, plans, transport
        self.sound, self.step_sound = sound, step_sound
        self._player, self._tread, self._later, self._show = player, tread, later, show
        self.take = Take(session.say)
        self._check: LatencyCheck | None = None
        self._hands: Hands | None = None
        self._running = False
        self._judging = False
        self._entered = open_song(session.now)
        transport.ended = self._ridden

    @property
    def hands(self) -> "Hands":
        """What judges the player's hands, made when first asked for."""
        if self._hands is None:
            from tui.playback.player_hands import Hands

            self._hands = Hands(self.session, self.plans)
            self._hands.use(self._player())
        return self._hands

    @property
    def held(self) -> tuple[int, ...]:
        """The keys that the player holds down, as MIDI numbers."""
        return self._hands.held if self._hands is not None else ()

    @property
    def word(self) -> str:
        """How the hand answers the chord, "" while nothing is heard."""
        return self._hands.word if self._hands is not None else ""

    def hear(self, event: "ClockEvent") -> None:
        """Take one event up."""
        self.transport.hear(event)
        self.sound.hear(event)
        self.take.hear(event)
        if self._check is not None:
            self._check.hear(event)
        if event.kind == "in":
            self._played(event)
        elif event.kind == "place":
            self._follow(event)

    def stepped(self) -> None:
        """The place has changed, whoever changed it."""
        if self._hands is not None:
            self._hands.stepped(monotonic())
            # A chord that came a moment before its step answers it too.
            if self._hands.ears.held.struck:
                self._judge_soon()
        self.transport.stepped()
        here = open_song(self.session.now)
        if here != self._entered:
            self._entered = here
            self.sound.enter()
        if not self.transport.on:
            self.step_sound.stepped()
            self.sound.lead()

    def record(self) -> None:
        """Begin a take of what is played, or end it."""
        if self.take.on:
            self.session.tasks.start(self.take.end())
        elif not self.sound.ports.get("in"):
            self.session.say(f"{NO_KEYBOARD} to record a take", alarm=True)
        else:
            here = self.session.now.here
            self.take.begin(here.song if here is not None else None)
            self.session.say("take: recording what you play; the same key ends and keeps it")

    def measure(self, keep: Callable[[int], None]) -> None:
        """Measure how long after a click the player's key comes in; `keep` is told the milliseconds."""
        if not self.sound.ports.get("in"):
            self.session.say(f"{NO_KEYBOARD} to measure the latency", alarm=True)
            return
        from tui.playback.latency_check import LatencyCheck

        def done(latency: int | None, words: str) -> None:
            self._check = None
            if latency is not None:
                keep(latency)
            self.session.say(words, alarm=latency is None)

        self._check = LatencyCheck(self.sound.play, done)
        self.session.say("play one key with each of eight clicks, any key")

    def _played(self, event: "ClockEvent") -> None:
        """Judge the keys that the player holds down on a MIDI keyboard, and do what a switch asks for."""
        for switch in self.hands.hear(event.data, event.seconds):
            self._tread(switch)
        self._judge_soon()

    def _judge_soon(self) -> None:
        """Judge once the hand is still: one look for all that comes in the meantime."""
        if not self._judging:
            self._judging = True
            self._later(SETTLING, self._judge)

    def _judge(self) -> None:
        self._judging = False
        if not self.hands.still(monotonic()):
            self._judge_soon()
            return
        before = (self.hands.word, self.session.now)
        due = self.transport.due
        self.hands.judge(monotonic(), None if due is None else due + (self._player().latency or 0) / 1000)
        if (self.hands.word, self.session.now) != before:
            self._show()

    def _ridden(self, ridden: "tuple[Song, Plan] | None") -> None:
        """Keep how late the hands came to each shift of a song that was played in time."""
        late = self._hands.heard_late() if self._hands is not None else {}
        if ridden is not None and late:
            from tui.playback.lateness_log import keep_ride

            self.session.tasks.start(keep_ride(self.session.notice, *ridden, late))

    def _follow(self, event: "ClockEvent") -> None:
        """Go where the copy is that we follow."""
        if event.place is None:
            return
        running, self._running = self._running, bool(event.place.running)
        if running and not self._running and not self.transport.on:
            self.step_sound.leader_gone()
            self.transport.lamp = ""
        from tui.playback.leading import beat, followed

        try:
            now = followed(self.session.now, event.place)
        except NotThere as fault:
            self.session.notices["leader"] = str(fault)
            return
        self.session.notices.pop("leader", None)
        if now is not self.session.now:
            self.session.become(now)
        number = beat(now, event.place)
        tempo = f"  ♩={event.tempo:.0f}" if event.tempo else ""
        self.transport.lamp = f"{'●' if number == 1 else '○'} {number}{tempo}" if number else ""


def open_song(now: Rehearsal) -> tuple[int, str]:
    """Return which song is open: its place in the set, and its file."""
    here = now.here
    return now.song, here.file if here else ""
