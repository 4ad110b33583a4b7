"""Plans made in a process of their own, so that keys never wait for them.

A thread would do the same work at the keys' expense: Python code busy in a thread doubles the time from key to picture.
A pool of the standard library outlives a program that is killed and cannot end a plan under way; this process ends with
its pipe. One question is asked at a time, the most urgent first; an answer once given is kept.
"""

import asyncio
import contextlib
import itertools
import pickle
from collections import OrderedDict
from dataclasses import dataclass
from typing import Any

from engine.errors import EngineError
from engine.planning.model import Plan, Request
from engine.song.model import Step
from tui.planning.worker import LENGTH_BYTES, framed
from tui.processes import safe_environment, start_command

KEPT_ANSWERS = 120
"""Answers that are kept, the ones used last: a set of 40 songs in some three keys."""

URGENT, LATER = 0, 1
"""What is waited for goes before what is only got ready."""

LONGEST_PAUSE = 5.0
"""Seconds after which a process that keeps dying is started again, at most."""

Question = tuple[str, tuple[Any, ...]]
"""What is asked (plan, alternatives, key) and its arguments."""


@dataclass(eq=False)
class NotPlanned(EngineError):
    """No plan could be made, in words for the player; `report` is for whoever mends the program."""

    words: str
    report: str = ""

    def __str__(self) -> str:
        return self.words


class Planner:
    """Asks the planning process. All methods belong to the thread of the event loop."""

    def __init__(self) -> None:
        self._kept: OrderedDict[Question, Any] = OrderedDict()
        self._asked: dict[Question, asyncio.Future[Any]] = {}
        self._queue: asyncio.PriorityQueue[tuple[int, int, Question]] = asyncio.PriorityQueue()
        self._number = itertools.count()
        self._asker: asyncio.Task[None] | None = None
        self._process: asyncio.subprocess.Process | None = None
        self._deaths = 0

    async def start(self) -> None:
        """Start the process early: it imports what it needs while the first chord is already on the screen."""
        if self._asker is None:
            self._asker = asyncio.create_task(self._ask_all(), name="planner")

    async def plan(self, steps: tuple[Step, ...], request: Request, urgency: int = URGENT) -> Plan:
        """Return the plan of these steps.

        Raises:
            NotPlanned: the planner refused, in its own words, or failed.
        """
        answer = await self.ask("plan", (tuple(steps), request), urgency)
        assert isinstance(answer, Plan)
        return answer

    async def ask(self, task: str, arguments: tuple[Any, ...], urgency: int = URGENT) -> Any:
        """Return what the planning process answers.

        Raises:
            NotPlanned: it refused, in its own words, or failed.
        """
        question = (task, arguments)
        if question in self._kept:
            self._kept.move_to_end(question)
            return self._kept[question]
        if self._asker is None:
            await self.start()
        answer = self._asked.setdefault(question, asyncio.get_running_loop().create_future())
        # What is asked again may have become more urgent; the second time its turn comes it has been answered.
        self._queue.put_nowait((urgency, next(self._number), question))
        # Whoever stops waiting (a stale picture) leaves the answer to whoever still does.
        return await asyncio.shield(answer)

    async def _ask_all(self) -> None:
        # Where it does not start, each question says so and tries again.
        with contextlib.suppress(NotPlanned):
            await self._running()
        while True:
            _, _, question = await self._queue.get()
            answer = self._asked.get(question)
            if answer is None:
                continue
            try:
                found = await self._ask(question)
            except NotPlanned as error:
                answer.set_exception(error)
                # Nobody may be left to hear it; without this line Python would print about it into the screen.
                answer.exception()
            else:
                self._kept[question] = found
                if len(self._kept) > KEPT_ANSWERS:
                    self._kept.popitem(last=False)
                answer.set_result(found)
            del self._asked[question]

    async def _ask(self, question: Question) -> Any:
        data = framed(pickle.dumps(question, pickle.HIGHEST_PROTOCOL))
        for _trial in range(2):
            process = await self._running()
            try:
                kind, content = await _exchanged(process, data)
            except (ConnectionError, asyncio.IncompleteReadError):
                # It died; a second one gets the same question once, since the question may be what killed it.
                self._end(process)
                self._deaths += 1
                continue
            self._deaths = 0
            if kind == "done":
                return content
            if kind == "fault":
                raise NotPlanned(str(content))
            raise NotPlanned("the planner fails at this song", str(content))
        raise NotPlanned("the planner gives up on this song")

    async def _running(self) -> asyncio.subprocess.Process:
        if self._process is None or self._process.returncode is not None:
            # What dies at once would die again: each new one has to wait longer.
            await asyncio.sleep(min(0.05 * (2**self._deaths - 1), LONGEST_PAUSE))
            try:
                self._process = await _started()
            except OSError as error:
                raise NotPlanned(f"the planner does not start ({(error.strerror or str(error)).lower()})") from None
        return self._process

    def _end(self, process: asyncio.subprocess.Process) -> None:
        with contextlib.suppress(ProcessLookupError):
            process.kill()
        self._process = None

    async def close(self) -> None:
        """End the process; questions still open are dropped."""
        if self._asker is not None:
            self._asker.cancel()
            with contextlib.suppress(asyncio.CancelledError):
                await self._asker
            self._asker = None
        for answer in self._asked.values():
            answer.cancel()
        self._asked.clear()
        process = self._process
        if process is not None:
            self._end(process)
            await process.wait()


async def _exchanged(process: asyncio.subprocess.Process, question: bytes) -> tuple[str, Any]:
    """Send a question and return (kind, content) of the answer."""
    assert process.stdin is not None
    assert process.stdout is not None
    process.stdin.write(question)
    await process.stdin.drain()
    size = int.from_bytes(await process.stdout.readexactly(LENGTH_BYTES), "big")
    kind, content = pickle.loads(await process.stdout.readexactly(size))
    return kind, content


async def _started() -> asyncio.subprocess.Process:
    return await asyncio.create_subprocess_exec(
        *start_command("tui.planning.worker"),
        stdin=asyncio.subprocess.PIPE,
        stdout=asyncio.subprocess.PIPE,
        stderr=asyncio.subprocess.DEVNULL,
        env=safe_environment(),
    )
