"""The last to leave: when interface and clock process are both gone, what they left sounding is silenced.

Each of the two silences the instrument when the other dies. Should both be killed at once, the process that lists the
ports is still there: the end of its pipe is the interface's death, and it knows the port and the clock's number. When
all three go (the power fails, a cable is pulled), active sensing is the standard's own cure (see `sounding`).
"""

import contextlib
import json
import os
import sys
import threading
import time
from collections.abc import Iterable
from pathlib import Path

from tui.midi.ports import VIRTUAL, Refused, open_output
from tui.midi.sounding import SoundingPort

PATIENCE = 3.0
"""Seconds in which a clock process that lives silences and goes by itself; it needs far less."""


AGAIN, TIMES = 0.5, 3
"""Seconds between two times of silencing, and how many: a JACK server that has lost two clients at once stands still
for a while, and what it was sent in between is lost (seen in 1 of 12 trials)."""


class Guard:
    """What the interface has said last: the port that plays, "" for none, and the number of the clock's process."""

    def __init__(self) -> None:
        self.alone = threading.Event()
        """Set when the interface is gone or wants nothing more."""
        self.out = ""
        self.clock = 0

    def listen(self, lines: Iterable[str]) -> None:
        """Read what the interface says until it ends."""
        for line in lines:
            with contextlib.suppress(ValueError, KeyError, TypeError):
                said = json.loads(line)
                self.out, self.clock = str(said["out"]), int(said["clock"])
        self.alone.set()

    def leave(self) -> None:
        """Silence the port, unless the interface took leave of it; a clock that still lives goes first."""
        if not self.alone.is_set() or not self.out or self.out.startswith(VIRTUAL):
            return
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end and lives(self.clock):
            time.sleep(0.02)
        with contextlib.suppress(Refused, OSError, RuntimeError):
            port = SoundingPort(open_output(self.out)[1])
            for _ in range(TIMES):
                port.silence(everywhere=True)
                time.sleep(AGAIN)
            port.close()


def lives(number: int) -> bool:
    """True when there is a process of this number that has not ended; where that cannot be asked safely, True."""
    if sys.platform == "win32":
        return True  # There os.kill ends the process, whatever the signal.
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    # Where nobody takes note of orphans their numbers stay behind them (state Z of Linux).
    with contextlib.suppress(OSError, IndexError):
        return Path(f"/proc/{number}/stat").read_text().rpartition(")")[2].split()[0] not in "ZX"
    return True
