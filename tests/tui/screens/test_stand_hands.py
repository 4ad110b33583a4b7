"""The player's keyboard and foot switches on the stand, and other copies that lead and follow."""

import time
from dataclasses import replace

import pytest

from engine.performance.events import control, note_off, note_on
from engine.performance.listening import Answer, Found, Held, answered
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from tests.tui import charts
from tests.tui.pretended_clock import app_with_clock, plays, says, set_up
from tests.tui.showing import running, shown, text
from tests.tui.waiting import soon
from tui.app import StandApp
from tui.persistence import practice_log
from tui.playback.player_hands import Hands, answer_words

PEDAL = "control 64 channel 1"


def chord(app: StandApp, step: int) -> list[bytes]:
    assert app.plans.current is not None
    return [note_on(key) for key in app.plans.current.steps[step].keys]


def released(app: StandApp) -> list[bytes]:
    return [note_off(key) for key in app.hearing.held]


def status(app: StandApp) -> str:
    return app._status()


async def test_the_players_port_is_listened_to() -> None:
    app, clock = set_up()
    async with running(app):
        assert ("in", "Stage Keys") in clock.opened


async def test_a_foot_switch_is_forward() -> None:
    app, _ = set_up(pedal=PEDAL)
    async with running(app) as pilot:
        await plays(pilot, control(64, 127), control(64, 0))
        assert app.session.now.step == 1


async def test_a_foot_switch_steps_and_never_answers_a_question() -> None:
    app, _ = set_up(pedal=PEDAL)
    async with running(app) as pilot:
        await pilot.press("t", "1", "0", "0")
        await plays(pilot, control(64, 127))
        assert "♩=92" in shown(app)[0]
        assert app.session.now.step == 1


async def test_other_switches_go_back_and_give_the_cue() -> None:
    app, clock = set_up(pedal_back="control 66 channel 1", pedal_cue="control 67 channel 1")
    async with running(app) as pilot:
        app.session.become(replace(app.session.now, step=22))
        await plays(pilot, control(67, 127))
        assert app.session.now.cued
        assert "cue" in clock.done
        await plays(pilot, control(66, 127))
        assert app.session.now.step == 21


async def test_a_switch_is_deaf_on_a_page() -> None:
    app, _ = set_up(pedal=PEDAL)
    async with running(app) as pilot:
        await pilot.press("s")
        await plays(pilot, control(64, 127))
        assert app.session.now.step == 0


async def test_held_keys_are_drawn_and_the_chord_is_found() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        before = text(app)
        await plays(pilot, *chord(app, 0))
        assert app.hearing.held == app.plans.current.steps[0].keys  # type: ignore[union-attr]
        assert text(app) != before
        assert status(app).startswith("found")
        assert app.session.now.step == 0


async def test_the_chord_an_octave_up_is_found_elsewhere() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await plays(pilot, *(note_on(data[1] + 12) for data in chord(app, 0)))
        assert status(app).startswith("found elsewhere")


async def test_what_is_missing_is_named() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await plays(pilot, *chord(app, 0)[:-1])
        assert status(app).startswith("missing ")


async def test_what_is_wrong_is_named() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await plays(pilot, note_on(64), note_on(66))
        assert status(app).startswith("wrong E4 Gb4")


async def test_a_cluster_after_a_chord_that_was_found_is_not_found() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await plays(pilot, *chord(app, 0))
        assert status(app).startswith("found")
        await plays(pilot, *released(app))
        assert status(app).startswith("found")
        await plays(pilot, *(note_on(key) for key in range(50, 65)))
        assert not status(app).startswith("found")


async def test_a_chord_a_tenth_of_a_second_before_its_step_answers_that_step() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 1)
        await plays(pilot, *chord(app, 1))
        await plays(pilot, *released(app), *chord(app, 2))
        assert "found" in status(app)
        await says(pilot, "step", 2)
        await pilot.pause(0.1)
        assert status(app).startswith("found -0.")


@pytest.mark.parametrize(
    ("answers", "words"), [("planned", "too many Ab1 (root)"), ("octaves", "found, with octaves or root")]
)
def test_an_added_root_is_said_to_be_the_root_and_counts_as_found_if_the_player_says_so(
    answers: str, words: str
) -> None:
    step = charts.plan_of(unfold(song_from_chart("| Abmaj7 |", "Eb", "4/4", 100))).steps[0]
    rootless = replace(step, left=(), right=tuple(note for note in step.left + step.right if note.key % 12 != 8))
    held = Held(frozenset((32, *rootless.keys)), 1.0)
    assert answer_words(answered(rootless, held, answers), rootless) == words


@pytest.mark.parametrize(("symbol", "key", "words"), [("Abmaj7", 44, "Ab2 (root)"), ("Abm7", 71, "Cb5")])
def test_a_key_too_many_is_named_as_the_chord_spells_it(symbol: str, key: int, words: str) -> None:
    plan = charts.plan_of(unfold(song_from_chart(f"| {symbol} |", "Eb", "4/4", 100)))
    assert answer_words(Answer(Found.EXTRA, wrong=(key,)), plan.steps[0]) == f"too many {words}"


async def test_nothing_steps_unless_the_player_wants_it() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await plays(pilot, *chord(app, 0))
        await plays(pilot, *released(app), *chord(app, 1))
        assert app.session.now.step == 0


async def test_the_stand_follows_the_hands_from_chord_to_chord() -> None:
    app, _ = set_up(hands_step=True)
    async with running(app) as pilot:
        await plays(pilot, *chord(app, 0))
        assert app.session.now.step == 0
        for step in range(1, 5):
            await plays(pilot, *released(app), *chord(app, step))
            # The hand is judged once it is still, which a busy machine sees late.
            await soon(lambda step=step: app.session.now.step == step and status(app).startswith("found"))
            assert app.session.now.step == step


async def test_the_stand_waits_while_the_next_chord_is_not_complete() -> None:
    app, _ = set_up(hands_step=True)
    async with running(app) as pilot:
        await plays(pilot, *chord(app, 0))
        await plays(pilot, *released(app), *chord(app, 1)[:-1])
        assert app.session.now.step == 0
        assert status(app).startswith("next: missing")
        await plays(pilot, chord(app, 1)[-1])
        assert app.session.now.step == 1


async def test_in_time_a_found_chord_says_how_late_it_was() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 1)
        await plays(pilot, *chord(app, 1))
        assert status(app).startswith("found +0.")


async def test_how_late_is_counted_from_the_latency_that_was_measured() -> None:
    app, _ = set_up(latency=-500)
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 1)
        await plays(pilot, *chord(app, 1))
        assert float(status(app).split()[1]) >= 0.5


async def test_how_late_each_shift_was_is_kept_when_the_song_ends() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 1, at=time.monotonic() - 0.2)
        await plays(pilot, *chord(app, 1))
        await pilot.press("i")
        await pilot.pause(0.3)
    (ride,) = practice_log.load().rides
    ((_, late),) = ride.late
    assert ride.title == charts.HARBOUR.title
    assert 0.15 < late < 2.0


async def test_in_time_the_hands_do_not_step() -> None:
    app, _ = set_up(hands_step=True)
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 0)
        await plays(pilot, *chord(app, 0))
        await plays(pilot, *released(app), *chord(app, 1))
        assert app.transport.on
        assert app.session.now.step == 0


def test_learning_is_given_up() -> None:
    app, _ = app_with_clock()
    hands = Hands(app.session, app.plans)
    hands.learn("pedal")
    hands.learn("")
    assert hands.learnt(0.0) is None
    assert hands.ears.learning is None
