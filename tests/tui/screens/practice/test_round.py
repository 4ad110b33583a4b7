"""What goes round, and what is listened for: spots in the middle, at the ends, and round the seam of a vamp."""

from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest

from engine.performance.events import note_off, note_on
from engine.performance.sound_settings import Touch
from engine.planning.model import Plan
from engine.practice.ranking import HardShift, meetings, ranked
from engine.song.model import Song
from tests.tui import charts
from tests.tui.pretended_clock import app_with_clock, plays
from tests.tui.screens.in_the_shed import kept, opened
from tests.tui.showing import running
from tui.screens.practice.round import GUIDES, Round


class Silent:
    """A sound that remembers what it was asked for."""

    guide = True

    def __init__(self, inputs: tuple[str, ...] = ()) -> None:
        self.clock = self
        self.inputs = inputs
        self.opened: list[str] = []
        self.played: list[Any] = []
        self.silenced = 0

    def ports(self) -> "Silent":
        return self

    def open(self, name: str, role: str) -> None:
        assert role == "in"
        self.opened.append(name)

    def touch(self, song: Song | None = None) -> Touch:
        return Touch()

    def play(self, performance: Any) -> None:
        self.played.append(performance)

    def hush(self) -> None:
        self.silenced += 1


def planned(song: Song = charts.HARBOUR) -> tuple[Plan, list[HardShift]]:
    plan = charts.plan_of(charts.unfold(song))
    return plan, list(ranked(meetings(0, song, plan)).shifts)


def begun(hard: HardShift, plan: Plan, tempo: float = 60.0) -> tuple[Round, Silent]:
    sound = Silent()
    going = Round(sound)  # type: ignore[arg-type]
    going.begin(hard, charts.HARBOUR, plan, tempo)
    return going, sound


def play(going: Round, apart: float = 0.5) -> bool | None:
    assert going.heard is not None
    for number, step in enumerate(going.heard.steps):
        going.moved(step.keys)
        going.listen(step.keys, number * apart)
    return going.heard.clean


def test_a_spot_goes_round_as_a_loop_at_the_ladders_tempo() -> None:
    plan, shifts = planned()
    hard = next(one for one in shifts if 1 < one.tightest.index < len(plan.steps) - 1 and not one.tightest.seam)
    going, sound = begun(hard, plan, 60.0)
    (performance,) = sound.played
    (loop,) = performance.loops
    steps = plan.steps[hard.tightest.before - 1 : hard.tightest.index + 2]
    assert loop.end - loop.start == float(sum(one.step.beats for one in steps))
    assert going.on
    going.stop()
    assert not going.on
    assert sound.silenced == 1


def test_every_shift_of_a_song_can_go_round_and_be_found() -> None:
    plan, shifts = planned()
    for hard in shifts:
        going, _ = begun(hard, plan)
        assert play(going) is True


def test_the_seam_of_a_vamp_is_heard_when_its_first_chord_comes_again() -> None:
    plan, shifts = planned(charts.song("Out", charts.section("Vamp", "Fm7", "Bb7", until="cue")))
    (hard,) = [one for one in shifts if one.tightest.seam]
    going, _ = begun(hard, plan)
    assert going.heard is not None
    assert [step.step.symbol for step in going.heard.steps] == ["Fm7", "Bb7", "Fm7"]
    assert play(going, apart=9.0) is False


def test_bars_without_chord_ask_for_nothing() -> None:
    plan, _ = planned()
    rests = tuple(replace(one, left=(), right=()) if i == 2 else one for i, one in enumerate(plan.steps))
    silent = replace(plan, steps=rests)
    hard = next(one for one in ranked(meetings(0, charts.HARBOUR, silent)).shifts if one.tightest.before == 1)
    going, _ = begun(hard, silent)
    assert going.heard is not None
    assert all(step.keys for step in going.heard.steps)
    assert play(going) is True


@pytest.mark.parametrize(
    ("wanted", "inputs", "opened"),
    [
        ("", ("Midi Through", "Stage Piano"), ["Stage Piano"]),
        ("", ("Stage Piano", "Pads"), []),
        ("Pads", ("Stage Piano", "Pads"), ["Pads"]),
        ("", (), []),
    ],
)
def test_the_keyboard_named_or_the_only_one_is_listened_to_once(
    wanted: str, inputs: tuple[str, ...], opened: list[str]
) -> None:
    sound = Silent(inputs)
    going = Round(sound)  # type: ignore[arg-type]
    going.connect(wanted)
    going.connect(wanted)
    assert sound.opened == opened


def test_nothing_is_heard_while_nothing_goes_round() -> None:
    going = Round(Silent())  # type: ignore[arg-type]
    assert not going.moved((60,))
    assert not going.listen((60,), 0.0)
    assert going.words == ""


async def test_space_goes_round_the_spot_at_the_ladders_tempo_until_it_is_pressed_again() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("space")
        (performance,) = clock.played
        assert performance.loops
        assert screen.round.on
        await pilot.press("right")
        assert len(clock.played) == 2
        await pilot.press("space")
        assert not screen.round.on
        assert clock.done.count("silence") == 1


async def test_leaving_the_shed_ends_what_goes_round() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await opened(app, pilot)
        await pilot.press("space", "escape")
        assert clock.done.count("silence") == 1


async def test_a_try_played_on_a_keyboard_is_judged_and_kept_without_a_key() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("space")
        heard = screen.round.heard
        assert heard is not None
        for before, step in pairwise([None, *heard.steps]):
            assert step is not None
            await plays(pilot, *map(note_off, before.keys if before else ()), *map(note_on, step.keys), still=0.15)
        assert [one.clean for one in (await kept(app)).tries] == [True]


def test_a_round_may_sound_the_rhythm_every_other_round_or_the_hand_that_is_left_out() -> None:
    plan, ranked = planned()
    struck: dict[tuple[str, str], list[int]] = {}
    for guide in GUIDES:
        for hands in ("both", "left"):
            going, sound = Round(Silent()), None  # type: ignore[arg-type]
            going.guide = guide
            going.begin(ranked[0], charts.HARBOUR, plan, 60.0, hands)
            sound = going.sound.played[-1]  # type: ignore[attr-defined]
            struck[guide, hands] = [data[1] for _, data in sound.messages if data[0] == 0x90]
    keys = {key for step in going.steps for key in step.keys}
    left = {note.key for step in going.steps for note in step.left}
    assert set(struck["rhythm", "both"]) == keys
    assert len(struck["alternate", "both"]) == len(struck["rhythm", "both"])
    assert set(struck["rhythm", "left"]) == left
    assert not struck["other", "both"]
    assert {note.key for step in going.steps for note in step.right} <= set(struck["other", "left"])


def test_every_other_round_lasts_two_rounds() -> None:
    plan, ranked = planned()
    lengths = []
    for guide in ("rhythm", "alternate"):
        going = Round(Silent())  # type: ignore[arg-type]
        going.guide = guide
        going.begin(ranked[0], charts.HARBOUR, plan, 60.0)
        (loop,) = going.sound.played[-1].loops  # type: ignore[attr-defined]
        lengths.append(loop.end - loop.start)
    assert lengths[1] == 2 * lengths[0]


@pytest.mark.parametrize("rests", [(0,), (1,), (0, 1), (0, 1, 2, 3)])
def test_a_hand_that_rests_at_the_spot_is_not_waited_for(rests: tuple[int, ...]) -> None:
    plan, found = planned()
    heard = []
    for hard in found:
        near = {hard.tightest.index + offset for offset in rests}
        steps = tuple(replace(step, left=()) if number in near else step for number, step in enumerate(plan.steps))
        going = Round(Silent())  # type: ignore[arg-type]
        going.begin(hard, charts.HARBOUR, replace(plan, steps=steps), 60.0, "left")
        heard += [going.heard] if going.heard else []
    assert heard
    assert all(step.left for one in heard for step in one.steps)
