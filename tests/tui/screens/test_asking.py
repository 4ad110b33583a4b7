"""What is asked in the top bar of the stand: key, tempo, title, note."""

import pytest
from textual import events

from tests.tui.showing import place, running, shown, stand_app
from tui.input import prompts


async def test_the_key_question_shows_old_and_new_key() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("k", "minus", "2")
        assert "key E♭ → D♭, a whole step down (-2)" in shown(app)[0]
        assert "Enter = tonight  Tab = for good" in shown(app)[0]


async def test_the_song_is_transposed_and_undone() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("k", "f", "enter")
        assert app.session.now.here is not None
        assert app.session.now.here.song.key == "F"
        assert app.session.now.steps[0].symbol == "Fmaj7"
        assert " F  ♩=92" in shown(app)[0]
        await pilot.press("u")
        assert "undone: key E♭ to F, " in shown(app)[0]
        assert app.session.now.steps[0].symbol == "Ebmaj7"
        await pilot.press("r")
        assert app.session.now.steps[0].symbol == "Fmaj7"


async def test_half_a_step_up_is_k_up_forward() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("k", "up", "enter")
        assert app.session.now.steps[0].symbol == "Emaj7"


async def test_escape_leaves_a_question_and_changes_nothing() -> None:
    app = stand_app()
    async with running(app) as pilot:
        before = shown(app)
        await pilot.press("k", "f", "escape")
        assert shown(app) == before


async def test_what_is_no_key_is_said_while_typing() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("k", "1", "2")
        assert "at most 11 half steps" in shown(app)[0]


async def test_the_tempo_is_typed() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("t", "1", "0", "0", "enter")
        assert "♩=100" in shown(app)[0]


async def test_the_tempo_is_nudged() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("t", "up", "up", "enter")
        assert "♩=94" in shown(app)[0]


async def test_the_tempo_is_tapped(monkeypatch: pytest.MonkeyPatch) -> None:
    now = [100.0]
    monkeypatch.setattr("tui.screens.asking.monotonic", lambda: now[0])
    app = stand_app()
    async with running(app) as pilot:
        for key in ("t", "t", "t", "t", "t"):
            await pilot.press(key)
            now[0] += 0.6
        assert "→ 100" in shown(app)[0]
        await pilot.press("enter")
        assert "♩=100" in shown(app)[0]


async def test_a_song_is_found_by_part_of_its_title() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("slash", "f", "e", "r")
        assert "3 Slow Ferry" in shown(app)[0]
        await pilot.press("enter")
        assert "3/3  Slow Ferry" in shown(app)[0]


async def test_a_note_is_written_for_the_bar_and_shown_there() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("n", *"softer", "space", *"now", "enter")
        assert "softer now" in place(app)
        await pilot.press("space")
        assert "softer now" not in place(app)


async def test_a_note_for_the_song_is_shown_at_its_top() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("n", *"low lights", "up")
        assert "note for the song" in shown(app)[0]
        await pilot.press("enter")
        assert "low lights" in place(app)


async def test_a_question_goes_away_by_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(prompts.PATIENCE, "jump", 0.05)
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j")
        await pilot.pause(0.2)
        assert "Harbour Steps" in shown(app)[0]


async def test_a_note_left_half_written_waits_for_the_next_time() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("n", *"watch the s")
        app.stand._forget()
        await pilot.press("n", *"inger")
        assert shown(app)[1].startswith("watch the singer")
        await pilot.press("escape", "n")
        assert "watch" not in shown(app)[0]


async def test_a_note_is_changed_from_the_words_that_stand_there() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("n", *"low lights", "enter", "n")
        assert shown(app)[1].startswith("low lights")
        await pilot.press("home", *"very ", "enter")
        assert "very low lights" in place(app)


async def test_a_note_goes_to_the_bar_or_the_song_with_what_was_typed() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("n", *"whole band", "up", "enter", "n")
        assert "note for Intro bar 1" in shown(app)[0]
        await pilot.press("up")
        assert "note for the song" in shown(app)[0]
        assert shown(app)[1].startswith("whole band")
        await pilot.press(*" out", "up")
        assert "note for Intro bar 1" in shown(app)[0]
        assert shown(app)[1].startswith("whole band out")


async def test_words_typed_for_the_bar_never_take_the_place_of_the_songs_note() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("n", "up", *"low lights", "enter", "n", *"softer", "up")
        assert shown(app)[1].startswith("low lights; softer")
        await pilot.press("up")
        assert shown(app)[1].startswith("softer ")
        await pilot.press(*" still", "up", "enter")
        assert app.session.now.songs[0].song.note == "low lights; softer still"


async def test_pasted_text_is_dropped_where_none_is_asked_for() -> None:
    app = stand_app()
    async with running(app) as pilot:
        before = app.session.now
        app.screen.post_message(events.Paste("q" * 500_000))
        await pilot.pause()
        assert "it is dropped" in shown(app)[0]
        assert app.session.now is before


async def test_a_line_takes_no_more_than_it_has_room_for() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("n")
        app.screen.post_message(events.Paste("x" * 500_000))
        await pilot.pause()
        assert app.stand.prompt is not None
        assert len(app.stand.prompt.typed) == prompts.LONGEST


async def test_songs_are_picked_from_a_list_that_narrows_while_one_types() -> None:
    app = stand_app()
    async with running(app) as pilot:
        titles = [place.song.title for place in app.session.now.songs]
        await pilot.press("slash")
        assert all(title in "\n".join(shown(app)[2:10]) for title in titles)
        await pilot.press(*titles[2][:5].lower())
        listed = "\n".join(row for row in shown(app)[2:10] if row.startswith((">", "  ")) and "  " in row)
        assert titles[2] in listed
        assert titles[0] not in shown(app)[3]
        await pilot.press("enter")
        assert app.session.now.song == 2
