"""Planning many songs at once: in as many processes as the machine has cores, with a progress bar for whoever waits.

The plans do not depend on how many processes made them.
"""

import os
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING

import click

from engine.errors import NoGrip
from tui.processes import keep_children_safe

if TYPE_CHECKING:
    from concurrent.futures import ProcessPoolExecutor

    from engine.planning.model import Plan, Request
    from engine.planning.twelve_keys import KeyRow, Range
    from engine.song.model import Song

WORTH_A_PROCESS = 24
"""Songs from which other processes are worth their start of about half a second each."""

LONG_SONG = 500
"""Chords of a song from which they are worth it for its twelve keys."""


def plan_one(job: "tuple[Song, Request]") -> "Plan | NoGrip":
    """Return the plan of a song, or why there is none."""
    from engine.planning.planner import plan
    from engine.song.unfolding import unfold

    song, request = job
    try:
        return plan(unfold(song), request)
    except NoGrip as error:
        return error


def plan_all(jobs: "Sequence[tuple[Song, Request]]", workers: int | None = None) -> "list[Plan | NoGrip]":
    """Return the plans of all songs in their order; `workers` is the number of processes, None for what suits."""
    workers = workers if workers is not None else (os.cpu_count() or 1) if len(jobs) >= WORTH_A_PROCESS else 1
    with _progress(len(jobs)) as done:
        return [_counted(plan, done) for plan in _made(jobs, workers)]


def compare_keys(
    song: "Song", request: "Request", singer: "Range | None" = None, horns: "Sequence[str]" = ()
) -> "tuple[KeyRow, ...]":
    """Return the twelve keys as the engine's `compare_keys` does, those of a long song in several processes."""
    from engine.planning.twelve_keys import every_key, judged
    from engine.song.unfolding import unfold
    from tui.planning.worker import key_in_hands

    rows, key = every_key(song, singer, horns), partial(key_in_hands, song=song, request=request)
    if len(unfold(song)) < LONG_SONG:
        return judged([key(row) for row in rows])
    with _processes(os.cpu_count() or 1) as pool:
        return judged(list(pool.map(key, rows)))


def _made(jobs: "Sequence[tuple[Song, Request]]", workers: int) -> "Iterator[Plan | NoGrip]":
    if workers <= 1:
        yield from map(plan_one, jobs)
        return
    with _processes(workers) as pool:
        yield from pool.map(plan_one, jobs, chunksize=4)


def _processes(workers: int) -> "ProcessPoolExecutor":
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    keep_children_safe()
    return ProcessPoolExecutor(workers, mp_context=get_context("spawn"))


def _counted(plan: "Plan | NoGrip", done: Callable[[], None]) -> "Plan | NoGrip":
    done()
    return plan


@contextmanager
def _progress(count: int) -> Iterator[Callable[[], None]]:
    """Show a bar on standard error where a person looks at it and the wait is worth one."""
    if count < WORTH_A_PROCESS or not sys.stderr.isatty():
        yield lambda: None
        return
    with click.progressbar(length=count, label="planning", file=sys.stderr) as bar:
        yield lambda: bar.update(1)
