"""What every screen is given: values, and callables for what lies above it."""

from collections.abc import Callable
from dataclasses import dataclass
from time import monotonic
from typing import TYPE_CHECKING

from tui.input.keymap import Keymap
from tui.planning.plans import Plans
from tui.session.notices import Complaints
from tui.session.session import Session
from tui.widgets.display import Display

if TYPE_CHECKING:
    from tui.persistence.open_files import OpenFiles
    from tui.persistence.player import Player
    from tui.playback.player_hands import Hands
    from tui.playback.sound import Sound
    from tui.playback.step_sound import StepSound
    from tui.playback.transport import Transport


@dataclass(frozen=True, slots=True)
class Context:
    """One per run, made by the application. `hands` judges the player's own keys, made when first asked for."""

    session: Session
    plans: Plans
    files: "Callable[[], OpenFiles]"
    display: Display
    complaints: Complaints
    sound: "Sound"
    step_sound: "StepSound"
    transport: "Transport"
    keymap: Callable[[], Keymap]
    player: "Callable[[], Player]"
    keep: Callable[..., None]
    """Keep settings of the player's for every set: `keep(theme="dark")`."""
    hands: "Callable[[], Hands]"
    held: Callable[[], tuple[int, ...]]
    """The keys (MIDI numbers) that the player holds down."""
    record: Callable[[], None]
    """Begin a take of what the player plays, or end it."""
    measure: Callable[[], None]
    """Measure how long after a click the player's key comes in."""
    status: Callable[[], str]
    """What sounds through what."""
    time: Callable[[], str]
    """The time of day, and the set's against what it should be."""
    open: Callable[[str], None]
    """Open a screen by its name."""
    edit: Callable[..., None]
    """Open a song's own file, by the name the set has for it, to be written by hand: `edit("songs/ferry.toml", line=7)`
    with the cursor on a line."""
    leave: Callable[[], None]
    """Quit."""
    show_top: Callable[[], None]
    """Show the topmost screen anew."""

    def told(self) -> tuple[str, bool]:
        """Return what is to be read of the standing complaints now, and whether the help has more of them."""
        return self.complaints.told(self.session.notices, monotonic())

    def key_line(self, screen: str, width: int) -> str:
        """Return a screen's line of keys, with a mark where a complaint can be read in the help."""
        keymap = self.keymap()
        mark = f"! see {keymap.sign('stand.help')}  " if self.told()[1] else ""
        return mark + keymap.line(screen, width - len(mark))
