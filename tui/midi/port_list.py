"""Which MIDI ports there are, asked in a process of its own.

A MIDI library may print to the terminal, hang or crash (a sound server that has died does all three), so it never
runs in the process that draws.
"""

import subprocess
from dataclasses import dataclass

from tui.midi.messages import Ports, from_line
from tui.processes import safe_environment, start_command

_NO_LIBRARY = (
    "The MIDI library is not installed, so there is only the built-in sound. Mend: pip install python-rtmidi "
    "(ready-made for Python 3.11 and 3.12; a later Python has to compile it, which needs a C++ compiler and on Linux "
    "the headers of ALSA and JACK: apt install build-essential libasound2-dev libjack-jackd2-dev)"
)
_NO_SYSTEM = (
    "This system offers no MIDI. On Linux load the ALSA sequencer (modprobe snd-seq) or start a JACK server; "
    "elsewhere open the system's MIDI settings."
)
_GONE = (
    "The MIDI server has gone, its ports are taken up when it is back. Start it again if it does not come by itself."
)
_NO_PORTS = "MIDI works, and no instrument is connected. Switch it on, plug it in, then ask again."
_NO_ANSWER = "The MIDI system does not answer. Restart the sound server or unplug the last device."


@dataclass(frozen=True, slots=True)
class PortsSeen:
    """Names of the ports, and in words what is wrong when there is no output (else "")."""

    outputs: tuple[str, ...] = ()
    inputs: tuple[str, ...] = ()
    trouble: str = ""


NO_ANSWER = PortsSeen(trouble=_NO_ANSWER)


def ports_seen(seconds: float = 8.0) -> PortsSeen:
    """Return the ports there are now; waits at most `seconds` for the MIDI system."""
    try:
        asked = subprocess.run(
            start_command("tui.midi.port_watch", "once"),
            capture_output=True,
            timeout=seconds,
            env=safe_environment(),
        )
        answer = from_line(asked.stdout.strip().splitlines()[-1])
        return seen(answer) if isinstance(answer, Ports) else NO_ANSWER
    except (subprocess.TimeoutExpired, OSError, ValueError, IndexError):
        return NO_ANSWER


def seen(answer: Ports) -> PortsSeen:
    """Return what an answer of `port_watch` means."""
    if answer.trouble:
        return PortsSeen(trouble={"library": _NO_LIBRARY, "gone": _GONE}.get(answer.trouble, _NO_SYSTEM))
    none = _NO_PORTS.replace("MIDI", " and ".join(answer.systems) or "MIDI", 1)
    return PortsSeen(answer.outputs, answer.inputs, "" if answer.outputs else none)
