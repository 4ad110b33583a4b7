"""The shed under a player's keys: what is ranked, tried, kept and shown."""

from dataclasses import replace

import pytest

from tests.tui import charts
from tests.tui.pretended_clock import app_with_clock, says
from tests.tui.screens.in_the_shed import chosen, kept, opened
from tests.tui.showing import running, shown, stand_app, text
from tui.session import decisions


async def test_the_hardest_shift_of_the_set_is_chosen_with_its_place_keyboards_and_time() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        loads = [hard.load for hard in screen.ranking.shifts]
        assert loads == sorted(loads, reverse=True)
        assert len({place.title for hard in screen.ranking.shifts for place in hard.met}) >= 2
        rows = shown(app)
        assert rows[3].startswith(">  1")
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
        hard = chosen(screen)
        start = screen.choice.tempo(hard)
        await pilot.press("right")
        up = screen.choice.tempo(hard)
        assert start < up < hard.tightest.tempo
        await pilot.press("left")
        assert screen.choice.tempo(hard) < up
        tries = (await kept(app)).tries
        assert [(one.tempo, one.clean) for one in tries] == [(start, True), (up, False)]
        assert tries[0].sign == hard.shift.sign
        assert "stopped at" in shown(app)[0]


async def test_a_verdict_by_a_slip_of_the_finger_is_taken_back() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        hard = chosen(screen)
        await pilot.press("u")
        assert "no try of this visit" in shown(app)[0]
        start = screen.choice.tempo(hard)
        await pilot.press("left", "u")
        assert screen.choice.tempo(hard) == start
        assert (await kept(app)).tries == ()
        await pilot.press("right")
        assert [one.tempo for one in (await kept(app)).tries] == [start]


async def test_plus_and_minus_change_the_tempo_without_a_try() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        hard = chosen(screen)
        start = screen.choice.tempo(hard)
        await pilot.press("minus")
        assert screen.choice.tempo(hard) < start
        await pilot.press("plus")
        assert screen.choice.tempo(hard) == start
        assert not (await kept(app)).tries


async def test_enter_opens_the_spot_on_the_stand_looped() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        hard = chosen(screen)
        await pilot.press("enter")
        now = app.session.now
        assert now.loop is not None
        assert now.loop[0] <= hard.tightest.before < hard.tightest.index <= now.loop[1]
        assert now.song == hard.tightest.song
        assert app.screen is app.stand


async def test_a_changed_tempo_ranks_anew_and_keeps_the_chosen_shift() -> None:
    app = stand_app()
    async with running(app) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("down", "down")
        hard = chosen(screen)
        app.session.become(decisions.retimed(app.session.now, hard.tightest.song, 40.0))
        await pilot.pause()
        assert screen.chosen is not None
        assert screen.chosen.shift == hard.shift


async def test_without_a_port_hearing_a_chord_says_where_to_choose_one() -> None:
    app, clock = app_with_clock()
    app.sound.port = ""
    async with running(app) as pilot:
        await opened(app, pilot)
        await pilot.press("p")
        assert "no port chosen" in shown(app)[0]
        app.sound.port = "Synth"
        await pilot.press("p")
        assert "sound_step" in clock.done


async def test_a_set_in_which_nothing_moves_says_so_and_takes_every_key() -> None:
    app, _ = app_with_clock(charts.harbour_set(charts.song("Drone", charts.section("A", "C", "C"))))
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


async def test_help_lists_the_sheds_keys() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await opened(app, pilot)
        await pilot.press("question_mark")
        assert "Keys of the shed" in text(app)
        assert "a notch up" in text(app)


async def test_the_shed_reads_in_plain_letters_too() -> None:
    app = stand_app()
    app.context.display.ascii_only = True
    async with running(app) as pilot:
        await opened(app, pilot)
        assert text(app).isascii()
        assert "?" not in "".join(shown(app)[1:-1])


async def test_while_a_spot_goes_round_it_can_be_played_from_and_tries_are_counted() -> None:
    app, _ = app_with_clock()
    async with running(app, (100, 30)) as pilot:
        screen = await opened(app, pilot)
        tempo = screen.choice.tempo(chosen(screen))
        await pilot.press("space")
        await pilot.pause(0.1)
        app.session.message = ""
        screen.show_now()
        await pilot.pause()
        assert f"♩={tempo:g}" in shown(app)[0]
        assert "░" in text(app), "the keyboard is drawn"
        await pilot.press("right", "left", "left")
        view = screen._round_view()
        assert view is not None
        assert (view.clean, view.stopped) == (1, 2)


async def test_the_first_round_has_its_beat_and_the_last_one_leaves_none_behind() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        await opened(app, pilot)
        await pilot.press("space")
        before = shown(app)[1:7]
        await says(pilot, "beat", 3)
        assert "round and round" in shown(app)[0]
        assert "● 1" in shown(app)[0]
        assert shown(app)[1:7] != before, "the beat is large beside the chord"
        await pilot.press("space")
        await says(pilot, "beat", 1)
        await pilot.press("a")
        assert "1" not in shown(app)[0].split("4/4")[1]


async def test_the_picture_follows_the_chords_of_the_spot() -> None:
    app, _ = app_with_clock()
    async with running(app, (100, 30)) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("space")
        first = screen.round._first
        await says(pilot, "step", first + 1)
        assert screen.round.present == 1
        await says(pilot, "step", first)
        assert screen.round.present == 0


async def test_one_hand_practises_alone() -> None:
    app, clock = app_with_clock()
    async with running(app, (100, 30)) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("b", "b")
        assert "the right hand alone" in shown(app)[0]
        await pilot.press("space")
        await pilot.pause(0.1)
        assert screen.round.heard is not None
        assert all(not step.left for step in screen.round.heard.steps)
        assert clock.played
