"""How the clock asks the system to be run before others, as sound programs do."""

import contextlib
import os


def go_first() -> None:
    """Take real-time priority, else a better one; where the system does not allow it we stay as we are."""
    try:
        policy = os.SCHED_RR | os.SCHED_RESET_ON_FORK
        os.sched_setscheduler(0, policy, os.sched_param(os.sched_get_priority_min(os.SCHED_RR) + 4))
    except (AttributeError, OSError):
        with contextlib.suppress(AttributeError, OSError):
            os.nice(-5)
