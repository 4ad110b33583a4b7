"""Ports, channel and what is sounded; a test chord, and silence on one key."""

from typing import TYPE_CHECKING, ClassVar

from tui.keymap import bindings
from tui.screens.page import Page
from tui.widgets.cells import Rows, text_row

if TYPE_CHECKING:
    from tui.app import StandApp

TEST_CHORD = (48, 55, 64, 71)
"""C major seventh in open position, as MIDI numbers."""


class SoundScreen(Page):
    """A row a setting, then a row a port."""

    kind: ClassVar[str] = "sound"
    forward: ClassVar[str] = "sound.take"
    BINDINGS = bindings("sound")

    def __init__(self, app: "StandApp") -> None:
        super().__init__(app)
        self.cursor = 0

    def on_mount(self) -> None:
        # The list of ports comes from a process of its own and grows while one looks.
        self.app.sound.clock  # noqa: B018
        self.set_interval(0.5, self.show_now)

    def heading(self) -> tuple[str, str]:
        return "SOUND", self.app.sound.status

    def lines(self) -> list[tuple[str, str, str]]:
        """Return (name, value, deed) of every row."""
        sound = self.app.sound
        rows = [
            ("channel", str(sound.channel), "channel"),
            ("guide chord on the last beat of the count", _yes(sound.guide), "guide"),
            ("each chord as you step", _yes(sound.each_step), "steps"),
            ("test chord", "Enter plays it", "test"),
            ("no port", "in use" if not sound.port else "", "port:"),
        ]
        return rows + [
            (f"port {name}", "in use" if name == sound.port else "", f"port:{name}") for name in self.ports()
        ]

    def ports(self) -> tuple[str, ...]:
        seen = self.app.sound.clock.ports()
        names = tuple(seen.outputs) if seen is not None else ()
        own = self.app.sound.port
        return names if not own or own in names else (own, *names)

    def body(self, width: int, height: int) -> Rows:
        lines = self.lines()
        self.cursor = max(0, min(self.cursor, len(lines) - 1))
        rows: Rows = [text_row("", width, "text")]
        for index, (name, value, _) in enumerate(lines):
            wide = max(20, min(52, width - 20))
            rows.append(
                text_row(f"   {name[:wide]:<{wide}} {value}", width, "here" if index == self.cursor else "text")
            )
        seen = self.app.sound.clock.ports()
        words = "looking for ports ..." if seen is None else seen.trouble or ""
        if words:
            rows.append(text_row("", width, "text"))
            rows.append(text_row(f"   {words}", width, "cue"))
        rows.append(text_row("", width, "text"))
        rows.append(
            text_row("   Keep monitors and headphones as low as lets you play: loud ones damage hearing.", width, "dim")
        )
        return rows

    def action_move(self, direction: int) -> None:
        self.cursor = max(0, min(self.cursor + direction, len(self.lines()) - 1))
        self.show_now()

    def action_change(self, direction: int) -> None:
        sound = self.app.sound
        deed = self.lines()[self.cursor][2]
        if deed == "channel":
            sound.channel = (sound.channel - 1 + direction) % 16 + 1
            self.app.keep_player(channel=sound.channel)
        elif deed in ("guide", "steps"):
            self.action_take()
        self.show_now()

    def action_take(self) -> None:
        sound = self.app.sound
        deed = self.lines()[self.cursor][2]
        if deed == "guide":
            sound.guide = not sound.guide
            self.app.keep_player(guide=sound.guide)
        elif deed == "steps":
            sound.toggle_steps(self.desk)
        elif deed == "test":
            sound.clock.sound(TEST_CHORD, channel=sound.channel, seconds=2.0)
        elif deed.startswith("port:"):
            sound.use(deed.removeprefix("port:"))
            self.app.keep_player(port_out=sound.port)
        self.show_now()

    def action_silence(self) -> None:
        self.app.sound.silence()
        self.desk.say("silence on all channels")


def _yes(value: bool) -> str:
    return "yes" if value else "no"
