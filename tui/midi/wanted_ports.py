"""Which ports are wanted for which role, which are open, and why not: told by the player and by two processes."""

import math
import threading
import time
from collections.abc import Iterable, Mapping

from tui.midi.open_ports import SENDING
from tui.midi.port_list import PortsSeen
from tui.midi.port_words import ROLES, names_for, status_words
from tui.midi.ports import VIRTUAL, matching

ASK_AGAIN = 1.0
"""Seconds from the answer of one attempt to open a port that is there to the next attempt."""


class WantedPorts:
    """`sinks` are names that are no MIDI ports and always there; one that was refused is tried again only when it is
    wanted anew. Used by several threads."""

    def __init__(self, sinks: Iterable[str] = ()) -> None:
        self._lock = threading.Lock()
        self._sinks = frozenset(sinks)
        self._wanted: dict[str, str] = {}
        self._open: dict[str, str] = {}
        self._why: dict[str, str] = {}
        self._asked: dict[str, float] = {}
        self._pending: dict[str, str] = {}
        self.seen: PortsSeen | None = None
        """The ports last listed, None before the first list."""

    def want(self, role: str, name: str) -> None:
        """Want a port for a role from now on, "" for none."""
        if role not in ROLES:
            raise ValueError(f"no such role: {role}")
        with self._lock:
            self._wanted.pop(role, None)
            if name:
                self._wanted[role] = name
            self._open.pop(role, None)
            self._why.pop(role, None)

    @property
    def wanted(self) -> Mapping[str, str]:
        """Role -> the name that is wanted for it."""
        with self._lock:
            return dict(self._wanted)

    def name(self, role: str) -> str:
        """Return the full name of the port that a role has open, "" for none."""
        with self._lock:
            return self._open.get(role, "")

    @property
    def wants_midi(self) -> bool:
        """True when the instrument is to be a MIDI port that is found; one that we make is there once."""
        name = self.wanted.get("out", "")
        return name not in ("", *self._sinks) and not name.startswith(VIRTUAL)

    @property
    def sounding(self) -> tuple[str, ...]:
        """The full names of the open MIDI ports that notes are sent through."""
        with self._lock:
            names = dict.fromkeys(self._open.get(role, "") for role in SENDING if role != "lead")
            return tuple(name for name in names if name and name not in self._sinks)

    def opened(self, role: str, name: str) -> None:
        """A role has its port."""
        with self._lock:
            self._open[role] = name
            self._why.pop(role, None)
            self._asked[role] = time.monotonic()
            self._pending.pop(role, None)

    def refused(self, role: str, why: str) -> None:
        """A role's port could not be opened."""
        with self._lock:
            self._open.pop(role, None)
            self._why[role] = why
            self._asked[role] = time.monotonic()
            self._pending.pop(role, None)

    def closed(self) -> None:
        """No port is open any more, and nobody is opening one."""
        with self._lock:
            self._open.clear()
            self._asked.clear()
            self._pending.clear()

    def asked(self, role: str, name: str) -> bool:
        """A role's port is to be opened; tell whether that is news: until it is answered it is not asked for again."""
        with self._lock:
            news = not name or self._pending.get(role) != name
            self._pending[role], self._asked[role] = name, math.inf
            return news

    def missing(self, now: float) -> dict[str, str]:
        """Return the roles to try again, with the names wanted: they are there and not open."""
        with self._lock:
            missing = {
                role: name
                for role, name in self._wanted.items()
                if role not in self._open and not (name in self._sinks and role in self._why)
            }
        return {
            role: name
            for role, name in missing.items()
            if now - self._asked.get(role, 0.0) > ASK_AGAIN and self._is_there(role, name)
        }

    def listed(self, ports: PortsSeen) -> dict[str, str]:
        """Take a new list; return the roles whose ports have gone, with the names they had."""
        with self._lock:
            self.seen = ports
            lost = {role: name for role, name in self._open.items() if not self._listed(role, name)}
            for role in lost:
                self._open.pop(role)
                self._why.pop(role, None)
        return lost

    @property
    def status(self) -> str:
        """One line for the player: what sounds through what, or why nothing does."""
        with self._lock:
            return status_words(self._wanted, self._open, self._why, self.seen, self._sinks)

    def _is_there(self, role: str, name: str) -> bool:
        made_here = name in self._sinks or name.startswith(VIRTUAL)
        return made_here or matching(name, list(names_for(self.seen, role))) is not None

    def _listed(self, role: str, name: str) -> bool:
        return name in self._sinks or name.startswith(VIRTUAL) or name in names_for(self.seen, role)
