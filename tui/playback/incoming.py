"""What comes in from the clock's process: beats and steps, the player's own keys and switches, a leader's place."""

from time import monotonic
from typing import TYPE_CHECKING

from tui.session.rehearsal import NotThere

if TYPE_CHECKING:
    from engine.planning.model import Plan
    from engine.song.model import Song
    from tui.app import StandApp
    from tui.midi.clock import ClockEvent
    from tui.session.desk import Desk

SETTLING = 0.06
"""Seconds after a key goes down in which the others of its chord may follow (performance/listening waits 0.05)."""


class Hearing:
    """Lets the application do what it hears."""

    def __init__(self, app: "StandApp") -> None:
        self.app = app
        self._entered = open_song(app.desk)

    def hear(self, event: "ClockEvent") -> None:
        """Take one event up."""
        self.app.along.hear(event)
        self.app.stand.lamp = self.app.along.lamp
        self.app.sound.hear(event, self.app.desk)
        if event.kind == "in":
            self._played(event)
        elif event.kind == "place":
            self._follow(event)

    def stepped(self) -> None:
        """The place has changed, whoever changed it."""
        if self.app.hands is not None:
            self.app.hands.stepped(monotonic())
        self.app.along.stepped()
        here = open_song(self.app.desk)
        if here != self._entered:
            self._entered = here
            self.app.sound.enter(self.app.desk)
        if not self.app.along.on:
            self.app.sound.stepped(self.app.desk)
            self.app.sound.lead(self.app.desk)

    def _played(self, event: "ClockEvent") -> None:
        """Mark the keys that the player holds down on a MIDI keyboard, judge them, and do what a switch asks for."""
        hands = self.app.listen()
        deeds = hands.hear(event.data, event.seconds)
        self.app.held = hands.held
        for deed in deeds:
            self._do(deed)
        self.app.set_timer(SETTLING, self._judge)

    def _judge(self) -> None:
        hands = self.app.listen()
        before = (hands.word, self.app.desk.now)
        hands.judge(monotonic(), self.app.along.due)
        if (hands.word, self.app.desk.now) != before:
            self.app.show_top()

    def ridden(self, ridden: "tuple[Song, Plan] | None") -> None:
        """Keep how late the hands came to each shift of a song that was played in time."""
        late = self.app.hands.heard_late() if self.app.hands is not None else {}
        if ridden is not None and late:
            from tui.playback.lateness_log import keep_ride

            self.app.desk.start_task(keep_ride(self.app.desk, *ridden, late))

    def _do(self, deed: str) -> None:
        """Do what a foot switch stands for, on the screen that is open."""
        tread = getattr(self.app.screen, "tread", None)
        if tread is not None:
            tread(deed)

    def _follow(self, event: "ClockEvent") -> None:
        """Go where the copy is that we follow."""
        if event.place is None:
            return
        from tui.playback.leading import beat, followed

        try:
            now = followed(self.app.desk.now, event.place)
        except NotThere as fault:
            self.app.desk.trouble["leader"] = str(fault)
            return
        self.app.desk.trouble.pop("leader", None)
        if now is not self.app.desk.now:
            self.app.desk.become(now)
        number = beat(now, event.place)
        self.app.along.lamp = self.app.stand.lamp = f"{'●' if number == 1 else '○'} {number}" if number else ""


def open_song(desk: "Desk") -> tuple[int, str]:
    """Return which song is open: its place in the set, and its file."""
    here = desk.now.here
    return desk.now.song, here.file if here else ""
