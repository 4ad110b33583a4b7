"""A song played along from the stand, with a clock that says what the test has it say."""

from dataclasses import replace

import pytest

from engine.performance.following import START
from engine.song.model import Song
from tests.tui import charts
from tests.tui.pretended_clock import app_with_clock, says
from tests.tui.showing import running, shown
from tests.tui.waiting import soon
from tui.playback.transport import section_of

VAMP = 21
"""The first step of the vamp in Harbour Steps."""


async def test_one_key_counts_in_and_plays_the_song_in_time() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i")
        (performance,) = clock.played
        assert [mark.value for mark in performance.marks if mark.kind == "step"] == list(
            range(len(app.session.now.steps))
        )
        assert performance.marks[0].kind == "beat"
        assert app.transport.on


async def test_the_steps_of_the_clock_move_the_stand() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 3)
        assert app.session.now.step == 3
        assert shown(app)[-2].strip().startswith("Verse, bar 2 of 4")


async def test_before_the_hands_are_planned_it_waits_for_them() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        plans, app.plans._made = app.plans._made, {}
        await pilot.press("i")
        assert "being planned" in shown(app)[0]
        assert clock.played == []
        app.plans._made = plans
        await pilot.pause(0.1)
        assert len(clock.played) == 1


async def test_while_it_waits_the_same_key_gives_it_up() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        plans, app.plans._made = app.plans._made, {}
        await pilot.press("i", "i")
        app.plans._made = plans
        await pilot.pause(0.1)
        assert clock.played == []


async def test_the_same_key_stops_it() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 2)
        await pilot.press("i")
        assert clock.done[-1] == "silence"
        await says(pilot, "step", 3)
        assert app.session.now.step == 2


async def test_it_goes_on_from_where_the_stand_is() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("space", "space", "i")
        assert next(mark.value for mark in clock.played[0].marks if mark.kind == "step") == 2


async def test_the_beat_is_seen_in_the_top_line_by_shape_and_number() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i")
        for strength, light in ((3, "● 1"), (1, "○ 2"), (2, "● 3"), (1, "○ 4"), (3, "● 1")):
            await says(pilot, "beat", strength)
            assert shown(app)[0].rstrip().endswith(light)
        await says(pilot, "end")
        assert "●" not in shown(app)[0]


async def test_a_chord_in_the_middle_of_a_bar_has_its_own_beat_number() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 4)  # F7 on the third beat
        await says(pilot, "beat", 2)
        assert shown(app)[0].rstrip().endswith("● 3")


async def test_at_the_end_the_next_song_is_announced() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "end")
        assert app.session.now.at_end
        assert not app.transport.on
        assert "songs/0.toml" in app.session.now.walked


async def test_a_step_of_the_players_own_takes_over() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 1)
        await pilot.press("space")
        assert app.session.now.step == 2
        assert not app.transport.on
        assert "silence" in clock.done
        assert "you step" in shown(app)[0]


async def test_another_tempo_is_taken_up_while_it_is_played() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i", "t", "1", "2", "0", "enter")
        await soon(lambda: len(clock.exchanged) == 1)
        (slower,), (faster,) = clock.played, clock.exchanged
        assert "mute" not in clock.done
        assert faster.seconds < slower.seconds
        await says(pilot, "step", 1)
        assert app.transport.on
        assert app.session.now.step == 1


async def test_another_key_is_taken_up_while_it_is_played_and_until_then_no_old_chord_is_struck() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 1)
        await pilot.press("k", "D", "b", "enter")
        assert "mute" in clock.done
        await soon(lambda: len(clock.exchanged) == 1)
        assert app.plans.current is not None
        struck = {data[1] for _, data in clock.exchanged[0].messages if data[0] == 0x90}
        assert struck <= {key for step in app.plans.current.steps for key in step.keys}
        await says(pilot, "step", 2)
        assert app.transport.on


async def test_a_vamp_waits_for_the_cue_key_and_one_cue_is_enough() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        app.session.become(replace(app.session.now, step=VAMP))
        await pilot.press("i")
        assert len(clock.played[0].loops) == 1
        await pilot.press("c")
        assert clock.done.count("cue") == 1
        assert app.session.now.cued
        await pilot.press("c")
        assert clock.done.count("cue") == 1
        await says(pilot, "step", VAMP + 1)
        assert app.session.now.cued
        await says(pilot, "step", VAMP + 2)
        assert not app.session.now.cued


async def test_a_loop_goes_round_and_round() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        app.session.become(replace(app.session.now, loop=(2, 4)))
        await pilot.press("i")
        (performance,) = clock.played
        assert [mark.value for mark in performance.marks if mark.kind == "step"] == [2, 3, 4]
        assert performance.loops[0].end == performance.seconds
        assert app.session.now.step == 2


async def test_the_tempo_ladder_climbs_to_tonights_tempo() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("space", "space", "plus")
        (performance,) = clock.played
        assert [mark.value for mark in performance.marks if mark.kind == "rung"] == [0, 1, 2, 3, 4]
        assert [mark.value for mark in performance.marks if mark.kind == "step"] == [2, 3, 4, 5, 6] * 5
        await says(pilot, "rung", 4)
        assert "5 of 5: tempo 92" in shown(app)[0]
        await says(pilot, "end")
        assert app.session.now.step == 2


async def test_a_count_on_its_own_ends_what_was_played_along() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i", "g")
        await says(pilot, "step", 3)
        assert not app.transport.on
        assert app.session.now.step == 0


async def test_the_leader_sends_the_time_along() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        app.sound.ports["lead"] = "Network 1"
        await pilot.press("i")
        assert bytes((START,)) in [data for _, data in clock.played[0].messages]


async def test_silence_is_one_key_away() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i", "x")
        assert clock.done[-1] == "panic"
        assert not app.transport.on


@pytest.mark.parametrize("song", [charts.HARBOUR, charts.LAMPS])
def test_sections_lie_side_by_side(song: Song) -> None:
    steps = charts.unfold(song)
    at, sections = 0, 0
    while at < len(steps):
        first, last = section_of(steps, at)
        assert first == at
        at, sections = last + 1, sections + 1
    assert sections == len(song.roadmap)


async def test_when_the_instrument_goes_the_song_stops_where_it_is_and_says_so() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 3)
        await says(pilot, "end", words="Loft Organ is gone")
        assert not app.transport.on
        assert app.session.now.step == 3
        assert "stopped: Loft Organ is gone" in shown(app)[0]


async def test_a_port_that_goes_and_comes_back_is_said_on_the_stand() -> None:
    app, clock = app_with_clock()
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await says(pilot, "status")
        clock.ready, clock.status = False, "Loft Organ: not connected, taken up when it comes"
        await says(pilot, "status")
        assert "Loft Organ: not connected" in shown(app)[0]
        clock.ready, clock.status = True, "plays through Loft Organ"
        await says(pilot, "status")
        assert "plays through Loft Organ" in shown(app)[0]
