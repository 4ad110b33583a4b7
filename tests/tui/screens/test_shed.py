"""The shed under a player's keys: what is ranked, tried, kept and shown."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from engine.plan.model import Plan
from engine.practice.log import read_log
from tests.tui import charts
from tests.tui.showing import running, shown, stand_app, text
from tui import decisions, practice_log
from tui.app import StandApp
from tui.screens.shed import ShedScreen


class SilentClock:
    """Remembers what it is asked to play."""

    def __init__(self) -> None:
        self.status = "no MIDI"
        self.played: list[Any] = []
        self.silenced = 0

    def play(self, performance: Any, delay: float = 0.0) -> None:
        self.played.append(performance)

    def silence(self) -> None:
        self.silenced += 1

    def ports(self) -> None:
        return None

    def sound_step(self, *arguments: Any, **options: Any) -> None:
        self.played.append(arguments)

    def sense(self, on: bool) -> None:
        return None

    def close(self) -> None:
        return None


def app_with_clock(*songs: Any) -> tuple[StandApp, SilentClock]:
    app, clock = stand_app(charts.harbour_set(*songs) if songs else None), SilentClock()
    app.sound._clock = clock  # type: ignore[assignment]
    return app, clock


async def opened(app: StandApp, pilot: Pilot[None], read: bool = True) -> ShedScreen:
    await pilot.press("a")
    await app.workers.wait_for_complete([one for one in app.workers if one.group == "practice log"])
    await pilot.pause()
    if read:
        await pilot.press("enter")
        await pilot.pause()
    assert isinstance(app.screen, ShedScreen)
    return app.screen


async def kept(app: StandApp) -> Any:
    await app.workers.wait_for_complete([one for one in app.workers if one.group == "practice log"])
    return practice_log.load()


async def test_at_the_first_use_the_caution_is_shown_and_then_no_more() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await opened(app, pilot, read=False)
        assert "stop before anything" in text(app)
        await pilot.press("right", "t", "down")
        assert "stop before anything" in text(app)
        await pilot.press("enter")
        assert "hurts." not in text(app)
        assert (await kept(app)).cautioned
        await pilot.press("escape")
        await opened(app, pilot, read=False)
        assert "tonight's plan of 30 minutes" in text(app)


async def test_the_hardest_shift_of_the_set_is_chosen_with_its_place_keyboards_and_time() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        loads = [hard.load for hard in screen.ranking.shifts]
        assert loads == sorted(loads, reverse=True)
        assert len({place.title for hard in screen.ranking.shifts for place in hard.met}) >= 2
        rows = shown(app)
        assert rows[3].startswith(" > 1")
        assert "needs ██" in text(app)
        assert "LH " in text(app)


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (50, 14), (40, 10), (20, 5), (200, 60)])
async def test_it_fits_every_terminal(size: tuple[int, int]) -> None:
    app = stand_app()
    async with running(app, size) as pilot:
        await opened(app, pilot)
        rows = shown(app)
        assert len(rows) == size[1]
        assert all(len(row) == size[0] for row in rows)


async def test_a_clean_try_is_kept_and_goes_a_notch_up_a_stop_down() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        hard = screen.chosen
        assert hard is not None
        start = screen.tempo(hard)
        await pilot.press("right")
        up = screen.tempo(hard)
        assert up > start or start == hard.tightest.tempo
        await pilot.press("left")
        assert screen.tempo(hard) < up
        tries = (await kept(app)).tries
        assert [(one.tempo, one.clean) for one in tries] == [(start, True), (up, False)]
        assert tries[0].sign == hard.shift.sign
        assert "stopped at" in shown(app)[0]


async def test_a_verdict_by_a_slip_of_the_finger_is_taken_back() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        hard = screen.chosen
        assert hard is not None
        await pilot.press("u")
        assert "no try of this visit" in shown(app)[0]
        start = screen.tempo(hard)
        await pilot.press("left", "u")
        assert screen.tempo(hard) == start
        assert (await kept(app)).tries == ()
        await pilot.press("right")
        assert [one.tempo for one in (await kept(app)).tries] == [start]


async def test_the_log_is_taken_up_again_on_another_evening() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("right", "right")
        await kept(app)
        await pilot.press("escape")
        again = await opened(app, pilot, read=False)
        assert again is not screen
        assert len(again.keeping.tries) == 2
        assert "2 tries kept" in shown(app)[0]
        assert " 1○" in shown(app)[3]


async def test_broken_lines_of_the_log_are_said_and_left_alone() -> None:
    path = practice_log.log_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text('{"caution": "seen"}\nscribbled\n{"when": "2026-')
    app = stand_app()
    async with running(app) as pilot:
        await opened(app, pilot, read=False)
        assert "2 lines of the practice log are unreadable" in shown(app)[0]
        await pilot.press("right")
        assert len((await kept(app)).tries) == 1
        assert path.read_text().startswith('{"caution": "seen"}\nscribbled\n{"when": "2026-\n')


async def test_a_log_that_cannot_be_written_is_said_and_practice_goes_on() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await kept(app)
        path = practice_log.log_path()
        path.unlink()
        path.mkdir()
        await pilot.press("right")
        await app.workers.wait_for_complete([one for one in app.workers if one.group == "practice log"])
        await pilot.pause()
        assert "could not be kept" in shown(app)[0]
        assert len(screen.keeping.tries) == 1


async def test_a_log_that_cannot_be_read_is_said() -> None:
    practice_log.log_path().mkdir(parents=True)
    app = stand_app()
    async with running(app) as pilot:
        await opened(app, pilot, read=False)
        assert "practice log cannot be read" in shown(app)[0]
        await pilot.press("down")
        assert " >" in text(app)


async def test_plus_and_minus_change_the_tempo_without_a_try() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        hard = screen.chosen
        assert hard is not None
        start = screen.tempo(hard)
        await pilot.press("minus")
        assert screen.tempo(hard) < start
        await pilot.press("plus")
        assert screen.tempo(hard) == start
        assert not (await kept(app)).tries


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
        assert clock.silenced == 1


async def test_leaving_the_shed_ends_what_goes_round() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await opened(app, pilot)
        await pilot.press("space", "escape")
        assert clock.silenced == 1


async def test_a_try_played_on_a_keyboard_is_judged_and_kept_without_a_key() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("space")
        heard = screen.round.heard
        assert heard is not None
        for step in heard.steps:
            app.held = step.keys
            app._show()
            await pilot.pause(0.15)
        assert [one.clean for one in (await kept(app)).tries] == [True]


async def test_tonights_plan_leads_through_its_spots_and_back() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("2")
        assert screen.turns is not None
        count = len(screen.turns.evening.turns)
        assert f"turn 1 of {count}" in shown(app)[1]
        seen = []
        for _ in range(count):
            seen.append(screen.chosen)
            await pilot.press("n")
        assert len(set(map(id, seen))) == len(screen.turns.evening.spots)
        assert "through" in shown(app)[1]


async def test_t_leaves_tonights_plan_and_the_tries_stay() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("t", "right", "t")
        assert screen.turns is None
        assert len(screen.keeping.tries) == 1


async def test_when_a_turns_time_is_over_the_next_verdict_goes_on() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("t")
        assert screen.turns is not None
        screen.turns = replace(screen.turns, began=screen.turns.began - 200)
        await pilot.press("right")
        assert screen.turns.turn == 1


async def test_enter_opens_the_spot_on_the_stand_looped() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        hard = screen.chosen
        assert hard is not None
        await pilot.press("enter")
        now = app.desk.now
        assert now.loop is not None
        assert now.loop[0] <= hard.tightest.before < hard.tightest.index <= now.loop[1]
        assert now.song == hard.tightest.song
        assert app.screen is app.stand


async def test_a_changed_tempo_ranks_anew_and_keeps_the_chosen_shift() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("down", "down")
        chosen = screen.chosen
        assert chosen is not None
        app.desk.become(decisions.retimed(app.desk.now, chosen.tightest.song, 40.0))
        await pilot.pause()
        assert screen.chosen is not None
        assert screen.chosen.shift == chosen.shift


async def test_the_narrower_version_is_shown_and_kept_as_pins() -> None:
    app = stand_app()

    class Narrow:
        async def plan(self, steps: Any, request: Any, urgency: int = 0) -> Plan:
            plan = charts.plan_of(steps)
            lower = tuple(replace(one, left=tuple(replace(n, key=n.key + 12) for n in one.left)) for one in plan.steps)
            return replace(plan, steps=lower)

    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("k")
        assert "v shows a narrower version first" in shown(app)[0]
        app.desk.planner.plan = Narrow().plan  # type: ignore[method-assign]
        await pilot.press("v")
        await pilot.pause()
        assert screen.narrow is not None
        assert "k = keep it for tonight" in text(app)
        await pilot.press("k")
        here = app.desk.now.here
        assert here is not None
        assert len(here.song.pins) == 2


async def test_without_a_port_hearing_a_chord_says_where_to_choose_one() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await opened(app, pilot)
        await pilot.press("p")
        assert "no MIDI port chosen" in shown(app)[0]
        app.sound.port = "Synth"
        await pilot.press("p")
        assert len(clock.played) == 1


async def test_a_set_in_which_nothing_moves_says_so_and_takes_every_key() -> None:
    app, _ = app_with_clock(charts.song("Drone", charts.section("A", "C", "C")))
    async with running(app) as pilot:
        await opened(app, pilot)
        assert "no finger has to move in this set" in text(app)
        await pilot.press("down", "right", "left", "space", "t", "n", "v", "k", "p", "plus", "enter")
        assert "no finger has to move" in text(app)


async def test_a_set_without_songs_opens_an_empty_shed() -> None:
    app = stand_app(replace(charts.harbour_set(), songs=()))
    async with running(app) as pilot:
        await opened(app, pilot)
        assert "the set has no songs yet" in text(app)


async def test_too_many_tries_in_a_row_are_answered_with_care() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await opened(app, pilot)
        await pilot.press(*["right"] * 6)
        assert "care: 6 tries in a row" in text(app)


async def test_help_lists_the_sheds_keys() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await opened(app, pilot)
        await pilot.press("question_mark")
        assert "Keys of the shed" in text(app)
        assert "a notch up" in text(app)


async def test_the_shed_reads_in_plain_letters_too() -> None:
    app = stand_app()
    app.ascii_only = True
    async with running(app) as pilot:
        await opened(app, pilot)
        assert text(app).isascii()
        assert "?" not in "".join(shown(app)[1:-1])


def test_the_log_lies_where_the_player_finds_it(tmp_path: Path) -> None:
    assert practice_log.log_path().parent == tmp_path / "home"
    assert read_log("").tries == ()


async def test_the_stand_says_when_the_hand_already_holds_the_next_chord() -> None:
    app = stand_app(charts.harbour_set(charts.song("Pairs", charts.section("A", "C7", "C9"))))
    async with running(app, (120, 30)):
        assert "same shape, other name: you already hold C9" in text(app)
