"""The planner's own process: reads questions from its standard input and writes answers to its standard output.

It ends when its input does, in the middle of an answer too, so that it never outlives the screens, whatever became of
them.
"""

import os
import pickle
import queue
import signal
import sys
import threading
from collections.abc import Callable
from typing import TYPE_CHECKING, BinaryIO

from engine.errors import EngineError
from engine.planning.model import Request
from engine.song.model import Song

if TYPE_CHECKING:
    from engine.planning.twelve_keys import KeyRow

LENGTH_BYTES = 4
"""Bytes that say how long a message is."""


def read_frame(source: BinaryIO) -> bytes | None:
    """Return the next frame, None at the end of the input."""
    head = source.read(LENGTH_BYTES)
    if len(head) < LENGTH_BYTES:
        return None
    return source.read(int.from_bytes(head, "big"))


def framed(data: bytes) -> bytes:
    """Return a message with its length before it."""
    return len(data).to_bytes(LENGTH_BYTES, "big") + data


def answer(question: bytes) -> bytes:
    """Return a pickled ("done", result), ("fault", words for a musician) or ("bug", traceback)."""
    task, arguments = pickle.loads(question)
    try:
        return pickle.dumps(("done", _task(task)(*arguments)), pickle.HIGHEST_PROTOCOL)
    except EngineError as error:
        return pickle.dumps(("fault", str(error)))


def _task(name: str) -> Callable[..., object]:
    """Return what is asked for; each is imported when it is first needed."""
    if name == "plan":
        from engine.planning.planner import plan

        return plan
    if name == "alternatives":
        from engine.planning.alternatives import alternatives

        return alternatives
    if name == "key":
        return key_in_hands
    raise ValueError(name)


def key_in_hands(row: "KeyRow", song: Song, request: Request) -> "KeyRow":
    """Return one of the twelve keys with what it asks of the hands."""
    from engine.planning.planner import plan
    from engine.planning.twelve_keys import in_hands
    from engine.song.unfolding import unfold

    return in_hands(row, song, request, plan, unfold)


def main(_arguments: list[str]) -> None:
    """Answer questions from the standard input until it ends."""
    # The terminal's interrupt goes to the whole group; only the screens decide what it means.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    answers = os.fdopen(os.dup(1), "wb")
    # What a library prints must not end up between the answers.
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    if hasattr(os, "nice"):
        os.nice(5)
    questions: queue.SimpleQueue[bytes] = queue.SimpleQueue()
    threading.Thread(target=_take_in, args=(sys.stdin.buffer, questions), name="questions", daemon=True).start()
    while True:
        try:
            reply = answer(questions.get())
        except Exception:  # a bug must reach the screens, not end this process
            import traceback

            reply = pickle.dumps(("bug", traceback.format_exc()))
        answers.write(framed(reply))
        answers.flush()


def _take_in(source: BinaryIO, questions: queue.SimpleQueue[bytes]) -> None:
    """Hand over each question; at the end of the input end the process, whatever it is doing."""
    while (question := read_frame(source)) is not None:
        questions.put(question)
    os._exit(0)
