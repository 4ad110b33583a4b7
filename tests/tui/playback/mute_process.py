"""The clock's process on a machine without a sound device."""

from tui.audio import BUILT_IN
from tui.midi import clock_process
from tui.midi.ports import Refused
from tui.midi.sounding import Output


def _open() -> Output:
    raise Refused("no sound device was found")


def main(arguments: list[str]) -> None:
    clock_process.main(arguments, {BUILT_IN: _open})
