"""Keys pressed on the stand, and what is then shown."""

import re
from dataclasses import replace

import pytest

from engine.song.length import clock, seconds
from tests.tui import charts
from tests.tui.pretended_clock import app_with_clock
from tests.tui.showing import place, running, shown, stand_app, text
from tui.input.keymap import Keymap
from tui.screens.stand.tour import tour_line
from tui.session import decisions
from tui.session.session import TOLD


async def test_the_stand_opens_with_title_key_tempo_and_place() -> None:
    app = stand_app()
    async with running(app):
        assert "1/3  Harbour Steps" in shown(app)[0]
        assert "E♭  ♩=92  4/4" in shown(app)[0]
        assert place(app).startswith("Intro, bar 1 of 2")


@pytest.mark.parametrize("key", ["space", "right", "pagedown", "enter"])
async def test_forward_is_the_next_chord(key: str) -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press(key)
        assert place(app).startswith("Intro, bar 2 of 2")


@pytest.mark.parametrize("key", ["left", "backspace", "pageup"])
async def test_back_is_the_chord_before(key: str) -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("space", "space", key)
        assert place(app).startswith("Intro, bar 2 of 2")


async def test_a_step_draws_other_chords_fingers_and_keys() -> None:
    app = stand_app()
    async with running(app) as pilot:
        before = shown(app)
        await pilot.press("space")
        after = shown(app)
        assert before[1:9] != after[1:9]
        assert before[9:13] != after[9:13]
        assert before[13:21] != after[13:21]


async def test_escape_does_nothing_on_stage() -> None:
    app = stand_app()
    async with running(app) as pilot:
        before = shown(app)
        await pilot.press("escape")
        assert shown(app) == before


async def test_full_stop_and_comma_change_the_song() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("full_stop")
        assert "2/3  Two Lamps" in shown(app)[0]
        await pilot.press("comma")
        assert "1/3  Harbour Steps" in shown(app)[0]


async def test_after_the_last_song_the_bar_says_so() -> None:
    app = stand_app(song=2)
    async with running(app) as pilot:
        await pilot.press("full_stop")
        assert "last song of the set" in shown(app)[0]


async def test_the_end_announces_the_next_song_and_forward_opens_it() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "t", "space")
        assert "Forward opens Two Lamps: Am, ♩=140" in place(app)
        await pilot.press("space")
        assert "2/3  Two Lamps" in shown(app)[0]


@pytest.mark.parametrize("key", ["q", "ctrl+q"])
async def test_q_quits(key: str) -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press(key)
        await pilot.pause()
    assert app.return_code == 0


async def test_ctrl_c_says_how_to_quit() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("ctrl+c")
        assert "q = quit" in shown(app)[0]


async def test_themes_follow_one_another() -> None:
    app = stand_app()
    async with running(app) as pilot:
        for theme in ("light", "plain", "dark"):
            await pilot.press("d")
            assert f"theme: {theme}" in shown(app)[0]


async def test_a_repeat_of_a_held_pedal_is_no_second_step(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [100.0]
    monkeypatch.setattr("tui.screens.stand.screen.monotonic", lambda: now[0])
    app = stand_app()
    async with running(app) as pilot:
        for _ in range(4):
            await pilot.press("pagedown")
            now[0] += 0.03
        assert app.session.now.step == 1
        now[0] += 0.3
        await pilot.press("pagedown")
        assert app.session.now.step == 2


async def test_keys_in_one_burst_keep_their_order() -> None:
    app = stand_app()
    async with running(app) as pilot:
        for key in ("k", "f", "enter", "j", "b"):
            app.simulate_key(key)
        await pilot.pause()
        await pilot.pause()
        assert app.session.now.here is not None
        assert app.session.now.here.song.key == "F"
        assert place(app).startswith("Bridge")


async def test_silence_is_one_key_and_needs_no_port() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("x")
        assert "silence" in shown(app)[0]


async def test_an_empty_set_is_said_and_no_key_breaks_it() -> None:
    app = stand_app(replace(charts.harbour_set(), songs=()))
    async with running(app) as pilot:
        said = shown(app)[-2]
        assert "add songs to the set's file" in said
        await pilot.press("space", "left", "down", "up", "j", "escape", "k", "t", "e", "home", "c", "u", "g", "n", "o")
        assert shown(app)[-2] == said


async def test_chords_are_shown_as_numbers_of_the_key_and_by_name_again() -> None:
    app = stand_app()
    async with running(app) as pilot:
        named = shown(app)[1:8]
        await pilot.press("#")
        assert "numbers of the key" in shown(app)[0]
        assert shown(app)[1:8] != named
        await pilot.press("#")
        assert shown(app)[1:8] == named


async def test_without_arrows_keys_and_ways_are_told_by_no_letter() -> None:
    app = stand_app()
    app.context.display.ascii_only = app.context.display.coarse = True
    app.keymap = Keymap(ascii_only=True)
    async with running(app) as pilot:
        app.session.toured = 99
        await pilot.press("k")
        assert shown(app)[0].rstrip().endswith("Eb, F#, +2, -1 or up/down")
        await pilot.press("escape", "s")
        assert shown(app)[-1].startswith(" Down down  Enter open")
        await pilot.press("escape", "b")
        ways = [row for row in shown(app) if row.startswith(("LH", "RH"))]
        assert not any(re.search(r"\d[v^]\d", row) for row in ways)


async def test_a_long_note_takes_two_rows_and_a_key_shows_the_rest() -> None:
    app = stand_app()
    words = [f"word{number}" for number in range(40)]
    async with running(app) as pilot:
        app.session.become(decisions.noted(app.session.now, "", " ".join(words)))
        await pilot.pause()
        assert "word5" in text(app)
        assert "word15" in text(app)
        assert "word39" not in text(app)
        assert "… ;" in text(app)
        await pilot.press("semicolon")
        assert all(word in text(app) for word in words)
        await pilot.press("space", "left")
        assert "word39" not in text(app)


async def test_a_wide_stand_tells_the_time_of_the_evening_and_of_the_song() -> None:
    app = stand_app()
    async with running(app, (100, 30)) as pilot:
        first, second = (clock(seconds(place.song, place.steps)) for place in app.session.now.songs[:2])
        vars(app).pop("_time")
        app.session.toured = TOLD
        app.show_top()
        await pilot.pause()
        assert f"set 0:00, planned 0:00, song {first}" in shown(app)[-1]
        await pilot.press("full_stop")
        assert f"planned {first}, song {second}" in shown(app)[-1]


async def test_the_tour_is_told_whole_while_something_sounds() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        app.session.toured = 5
        app.show_top()
        await pilot.pause()
        assert app.sound.started
        assert tour_line(5) in shown(app)[-1]
