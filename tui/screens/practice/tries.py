"""The practice log behind the shed: read once, added to after each try, one write after the other."""

import asyncio
from collections.abc import Callable
from dataclasses import replace

from engine.errors import EngineError
from engine.practice.lateness import Late
from engine.practice.log import Log, Memory, Try, remembered
from tui.persistence import practice_log
from tui.persistence.store import StoreError
from tui.session.session import Session


class Tries:
    """What is known of every shift. Writing happens beside the event loop; troubles are said."""

    def __init__(self, session: Session) -> None:
        self.session = session
        # Until the file has been read nobody is shown a caution they may have seen.
        self.log = Log(cautioned=True)
        self.memories: dict[str, Memory] = {}
        self.late: dict[str, Late] = {}
        """The sign of a shift -> how late it was when it was last heard."""
        self._writing = asyncio.Lock()

    @property
    def tries(self) -> tuple[Try, ...]:
        return self.log.tries

    async def load(self) -> None:
        """Read the log; lines that cannot be read are said and left as they are."""
        try:
            log = await asyncio.to_thread(practice_log.load)
        except EngineError as fault:
            self._complain(fault, "")
            return
        self.log = replace(log, tries=log.tries + self.log.tries)
        self.memories = remembered(self.log.tries)
        self.late = self.log.heard()
        if log.bad:
            count = len(log.bad)
            lines = f"{count} lines of the practice log are" if count > 1 else "a line of the practice log is"
            self.session.say(f"{lines} unreadable and skipped ({log.bad[0]}); nothing was changed")

    def remember(self, one: Try) -> None:
        """Take a try into account at once."""
        self.log = replace(self.log, tries=(*self.log.tries, one))
        if one.late is not None:
            self.late[one.sign] = Late(one.late, one.tempo, one.when)
        self._look_again(one.sign)

    def forget(self) -> Try:
        """Take back the last try and return it; there must be one."""
        *tries, last = self.log.tries
        self.log = replace(self.log, tries=tuple(tries))
        self._look_again(last.sign)
        return last

    def _look_again(self, sign: str) -> None:
        """Make the memory of one shift anew: after years of practice a key press cannot go through all of them."""
        others = {known: memory for known, memory in self.memories.items() if known != sign}
        self.memories = others | remembered(one for one in self.log.tries if one.sign == sign)

    def cautioned(self) -> None:
        self.log = replace(self.log, cautioned=True)

    async def write(self, write: Callable[[], None]) -> None:
        """Put something on the disk with a function of `practice_log`, after what waits to be put there."""
        async with self._writing:
            try:
                await asyncio.to_thread(write)
            except EngineError as fault:
                self._complain(fault, "NOT KEPT: ")
                return
        self.session.notices.pop("practice", None)

    def _complain(self, fault: EngineError, head: str) -> None:
        # What is wrong comes before where: the path may be long.
        words = head + (f"{fault.found}, {fault.hint}" if isinstance(fault, StoreError) else str(fault))
        self.session.notices["practice"] = words.splitlines()[0]
        self.session.say(words, alarm=True)
