"""Keys pressed on the stand, and what is then shown."""

import re
from dataclasses import replace
from pathlib import Path

import pytest

from tests.tui import charts
from tests.tui.showing import place, running, shown, stand_app, text
from tui.steps import bar_starts


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


async def test_a_section_is_two_keys_away() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j")
        assert "i Intro  v Verse  b Bridge" in shown(app)[0]
        await pilot.press("b")
        assert place(app).startswith("Bridge, bar 1 of 4")


async def test_two_before_the_bridge_is_two_keys() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("2", "b")
        assert place(app).startswith("Verse, bar 3 of 4, pass 2 of 2")


async def test_bars_back_is_a_digit_and_forward() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "b", "2", "space")
        assert place(app).startswith("Verse, bar 3 of 4")


async def test_a_bar_of_this_section_is_a_digit_and_a_full_stop() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "v", "3", "full_stop")
        assert place(app).startswith("Verse, bar 3 of 4")


async def test_jump_and_forward_is_the_section_again() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "b", "space", "space", "j", "space")
        assert place(app).startswith("Bridge, bar 1")


async def test_a_letter_of_no_section_is_said() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "z")
        assert "no section has the letter z" in shown(app)[0]
        await pilot.press("space")
        assert "Harbour Steps" in shown(app)[0]


async def test_up_and_down_go_section_by_section_and_home_is_the_top() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("down", "down")
        assert place(app).startswith("Verse, bar 1 of 4, pass 2")
        await pilot.press("up")
        assert place(app).startswith("Verse, bar 1 of 4, pass 1")
        await pilot.press("home")
        assert place(app).startswith("Intro, bar 1")


@pytest.mark.parametrize("key", ["end", "e"])
async def test_the_last_ending_is_one_key(key: str) -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press(key)
        assert place(app).startswith("Tag, bar 1")


async def test_a_vamp_waits_for_its_cue() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "a", "space", "space")
        assert place(app).startswith("Vamp, bar 1 of 2")
        assert "VAMP until cue" in place(app)
        await pilot.press("c")
        assert "CUE GIVEN" in place(app)
        await pilot.press("space", "space")
        assert place(app).startswith("Tag")


async def test_the_cue_words_of_a_section_are_shown() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "v")
        assert "drums out" in place(app)


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


async def test_the_leader_sees_the_roadmap_large_and_what_the_horns_read() -> None:
    app = stand_app(replace(charts.harbour_set(), horns=("Bb", "Eb")))
    async with running(app, (120, 36)) as pilot:
        await pilot.press("v")
        assert "layout: leader" in shown(app)[0]
        assert "Bb horn" in text(app)
        assert "Fmaj7" in text(app)


async def test_the_split_layout_has_the_bars_beside_the_hands() -> None:
    app = stand_app()
    async with running(app, (140, 36)) as pilot:
        await pilot.press("v", "v", "space")
        assert "layout: split" in shown(app)[0] or "Harbour Steps" in shown(app)[0]
        assert "Verse, pass 1 of 3" in text(app)
        assert "▏" in text(app)


async def test_themes_follow_one_another() -> None:
    app = stand_app()
    async with running(app) as pilot:
        for theme in ("light", "plain", "dark"):
            await pilot.press("d")
            assert f"theme: {theme}" in shown(app)[0]


async def test_a_repeat_of_a_held_pedal_is_no_second_step(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [100.0]
    monkeypatch.setattr("tui.screens.stand.monotonic", lambda: now[0])
    app = stand_app()
    async with running(app) as pilot:
        for _ in range(4):
            await pilot.press("pagedown")
            now[0] += 0.03
        assert app.desk.now.step == 1
        now[0] += 0.3
        await pilot.press("pagedown")
        assert app.desk.now.step == 2


async def test_keys_in_one_burst_keep_their_order() -> None:
    app = stand_app()
    async with running(app) as pilot:
        for key in ("k", "f", "enter", "j", "b"):
            app.simulate_key(key)
        await pilot.pause()
        await pilot.pause()
        assert app.desk.now.here is not None
        assert app.desk.now.here.song.key == "F"
        assert place(app).startswith("Bridge")


async def test_silence_is_one_key_and_needs_no_port() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("x")
        assert "silence" in shown(app)[0]


async def test_an_empty_set_is_said_and_no_key_breaks_it() -> None:
    app = stand_app(replace(charts.harbour_set(), songs=()))
    async with running(app) as pilot:
        await pilot.press("space", "left", "down", "up", "j", "escape", "k", "t", "e", "home", "c", "u", "g", "n", "o")
        assert app.is_running


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 60), (60, 20), (40, 10), (20, 5), (10, 3), (1, 1)])
async def test_every_size_is_filled_exactly(size: tuple[int, int]) -> None:
    app = stand_app()
    async with running(app, size) as pilot:
        await pilot.press("space")
        rows = shown(app)
        assert len(rows) == size[1]
        assert all(len(row) == size[0] for row in rows)


async def test_a_small_terminal_shows_the_chords_and_asks_for_more() -> None:
    app = stand_app()
    async with running(app, (40, 10)):
        assert "make the window larger" in text(app)
        assert "█" in text(app)


def test_the_chart_has_a_bar_for_each_measure() -> None:
    assert len(bar_starts(charts.unfold(charts.HARBOUR))) == 21


async def test_settings_that_cannot_be_read_are_named_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STILLHAND_HOME", str(tmp_path))
    (tmp_path / "player.toml").write_text('theme = "lig')
    app = stand_app()
    async with running(app):
        assert app.desk.trouble["player"].startswith("player.toml: could not be read")


async def test_chords_are_shown_as_numbers_of_the_key_and_by_name_again() -> None:
    app = stand_app()
    async with running(app) as pilot:
        named = shown(app)[1:8]
        await pilot.press("#")
        assert "numbers of the key" in shown(app)[0]
        assert shown(app)[1:8] != named
        await pilot.press("#")
        assert shown(app)[1:8] == named


async def test_an_old_complaint_gives_the_keys_back_and_stands_in_the_help(monkeypatch: pytest.MonkeyPatch) -> None:
    app = stand_app()
    async with running(app) as pilot:
        app.desk.toured = 99
        app.desk.trouble["bar"] = "not written back: the bar was changed elsewhere"
        app.desk.tell()
        await pilot.pause()
        assert shown(app)[-1].startswith(" ! not written back: the bar was changed elsewhere")
        assert shown(app)[-1].rstrip().endswith("? help")
        monkeypatch.setattr("tui.complaints.FRESH", 0.0)
        app._look_outside()
        await pilot.pause()
        assert shown(app)[-1].startswith(" ! see ?  space next")
        await pilot.press("b")
        assert shown(app)[-1].startswith(" ! see ?")
        await pilot.press("question_mark")
        assert shown(app)[1].startswith(" ! not written back")


async def test_without_arrows_keys_and_ways_are_told_by_no_letter() -> None:
    app = stand_app()
    app.ascii_only = app.coarse = True
    async with running(app) as pilot:
        app.desk.toured = 99
        await pilot.press("k")
        assert shown(app)[0].rstrip().endswith("Eb, F#, +2, -1 or up/down")
        await pilot.press("escape", "s")
        assert shown(app)[-1].startswith(" Down down  Up up  Enter open")
        await pilot.press("escape", "b")
        ways = [row for row in shown(app) if row.startswith(("LH", "RH"))]
        assert not any(re.search(r"\d[v^]\d", row) for row in ways)


async def test_a_window_too_small_for_the_split_layout_is_said() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("v", "v")
        assert "layout: split: in a window of 100x20 or more" in shown(app)[0]
    app = stand_app()
    async with running(app, (120, 36)) as pilot:
        await pilot.press("v", "v")
        assert shown(app)[0].strip() == "layout: split"
