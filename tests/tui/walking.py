"""Going through a rehearsal as a foot on a pedal does."""

from tui.session import rehearsal as stand
from tui.session.rehearsal import Rehearsal


def at(now: Rehearsal) -> tuple[str, int, int]:
    """Return (section, pass, bar) of the present chord."""
    assert now.now is not None
    return now.now.section, now.now.pass_, now.now.bar


def forwards(now: Rehearsal, times: int) -> Rehearsal:
    for _ in range(times):
        now = stand.forward(now)
    return now
