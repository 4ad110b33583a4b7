"""The planner's own process: asked, answered, killed, closed."""

import asyncio
import errno
import os
import signal

import pytest

from engine.planning.model import Request
from tests.tui import charts
from tests.tui.waiting import soon
from tui.planning.client import LATER, NotPlanned, Planner
from tui.session.rehearsal import opened


@pytest.fixture
def steps():  # type: ignore[no-untyped-def]
    return real_steps("| Dm7 | G7 | Cmaj7 | % |")


def real_steps(bars: str):  # type: ignore[no-untyped-def]
    from engine.song.reader import song_from_chart
    from engine.song.unfolding import unfold

    return unfold(song_from_chart(bars))


async def test_a_plan_comes_back_with_a_step_for_each_chord(steps) -> None:  # type: ignore[no-untyped-def]
    planner = Planner()
    try:
        plan = await planner.plan(steps, Request())
        assert [step.step.symbol for step in plan.steps] == ["Dm7", "G7", "Cmaj7", "Cmaj7"]
    finally:
        await planner.close()


async def test_the_same_question_is_answered_from_memory(steps) -> None:  # type: ignore[no-untyped-def]
    planner = Planner()
    try:
        first = await planner.plan(steps, Request())
        assert await planner.plan(steps, Request()) is first
    finally:
        await planner.close()


async def test_the_process_reads_plain_numbers_without_numpy_here(steps) -> None:  # type: ignore[no-untyped-def]
    planner = Planner()
    try:
        plan = await planner.plan(steps, Request())
        kinds = {type(plan.effort), *(type(step.effort) for step in plan.steps)}
        kinds |= {type(value) for step in plan.steps for _, value in step.terms}
        assert kinds == {float}
    finally:
        await planner.close()


async def test_what_is_urgent_comes_before_what_is_for_later() -> None:
    planner = Planner()
    order: list[str] = []

    async def ask(bars: str, urgency: int) -> None:
        await planner.plan(real_steps(bars), Request(), urgency)
        order.append(bars)

    try:
        await planner.start()
        later = [asyncio.create_task(ask(f"| {root}7 |", LATER)) for root in "CDEF"]
        await asyncio.sleep(0)
        now = asyncio.create_task(ask("| Am7 |", 0))
        await asyncio.gather(*later, now)
        assert order.index("| Am7 |") <= 1
    finally:
        await planner.close()


async def test_a_key_is_weighed_for_the_hands_as_the_command_does() -> None:
    from engine.planning.planner import plan
    from engine.planning.twelve_keys import compare_keys, every_key
    from engine.song.reader import song_from_chart
    from engine.song.unfolding import unfold

    song = song_from_chart("| Dm7 | G7 | Cmaj7 | % |")
    planner = Planner()
    try:
        row = await planner.ask("key", (every_key(song)[3], song, Request()))
    finally:
        await planner.close()
    compared = compare_keys(song, Request(), plan, unfold)[3]
    assert (row.key, row.effort, row.widest, row.muddy) == (
        compared.key, compared.effort, compared.widest, compared.muddy,
    )  # fmt: skip


async def test_a_process_that_died_is_started_again(steps) -> None:  # type: ignore[no-untyped-def]
    planner = Planner()
    try:
        await planner.start()
        await soon(lambda: planner._process)
        assert planner._process is not None
        os.kill(planner._process.pid, signal.SIGKILL)
        plan = await planner.plan(steps, Request())
        assert plan.steps
    finally:
        await planner.close()


async def test_after_closing_no_process_is_left(steps) -> None:  # type: ignore[no-untyped-def]
    planner = Planner()
    await planner.plan(steps, Request())
    process = planner._process
    await planner.close()
    assert process is not None
    assert process.returncode is not None


async def test_a_refusal_comes_in_the_planners_words(steps) -> None:  # type: ignore[no-untyped-def]
    planner = Planner()
    try:
        with pytest.raises(NotPlanned, match="hands"):
            await planner.plan(steps, Request(reach=(1.0, 1.0), sound="organ"))
    finally:
        await planner.close()


async def test_a_bug_in_the_planner_is_reported_and_the_next_plan_is_made(steps) -> None:  # type: ignore[no-untyped-def]
    planner = Planner()
    try:
        with pytest.raises(NotPlanned) as failure:
            await planner.ask("plan", ("no steps", 3))
        assert "Traceback" in failure.value.report
        assert (await planner.plan(steps, Request())).steps
    finally:
        await planner.close()


def test_a_rehearsal_unfolds_each_song_once() -> None:
    songs = opened(charts.harbour_set(), charts.unfold)
    assert all(place.steps for place in songs.songs)


async def test_a_process_that_does_not_start_is_said_and_tried_again(steps, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    planner = Planner()

    async def no_room() -> asyncio.subprocess.Process:
        raise OSError(errno.EAGAIN, "Resource temporarily unavailable")

    try:
        with monkeypatch.context() as crowded:
            crowded.setattr("tui.planning.client._started", no_room)
            await planner.start()
            with pytest.raises(NotPlanned, match="does not start"):
                await planner.plan(steps, Request())
        assert len((await planner.plan(steps, Request())).steps) == 4
    finally:
        await planner.close()
