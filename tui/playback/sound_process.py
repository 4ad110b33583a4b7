"""The clock's process with the built-in sound among its outputs; nothing of the sound is loaded before it is opened."""

from typing import TYPE_CHECKING

from tui.audio import BUILT_IN
from tui.midi import clock_process
from tui.midi.ports import Refused

if TYPE_CHECKING:
    from tui.midi.sounding import Output


def main(arguments: list[str]) -> None:
    """Run the clock, see `tui.midi.clock_process.main`."""
    clock_process.main(arguments, {BUILT_IN: open_sound})


def open_sound() -> "Output":
    """Return the built-in sound, open.

    Raises:
        Refused: there is no sound output.
    """
    from tui.audio.device import NoSound, open_built_in

    try:
        return open_built_in()
    except NoSound as fault:
        raise Refused(str(fault)) from None
