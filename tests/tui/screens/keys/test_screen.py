"""The twelve keys compared, and one taken for tonight or for good."""

from dataclasses import replace

import pytest

from engine.song.model import SetList
from tests.tui import charts
from tests.tui.showing import planner, running, shown, stand_app, text
from tui.persistence.player import Singer
from tui.planning.client import NotPlanned


async def test_twelve_keys_are_compared_and_the_best_is_marked() -> None:
    app = stand_app(replace(charts.harbour_set(), horns=("Bb",)))
    async with running(app, (100, 30)) as pilot:
        await pilot.press("y")
        rows = [row for row in shown(app) if " mm" in row]
        assert len(rows) == 12
        assert rows[-1].split()[:4] == ["★", "D", "-1", "29"]
        assert "B♭ horn" in text(app)
        assert "as written" in text(app)


async def test_without_a_singer_the_keys_say_where_a_range_is_written() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("y")
        assert "[[singers]] in player.toml" in text(app)


async def test_the_keys_are_compared_for_one_singer_after_the_other() -> None:
    song = replace(charts.harbour_set().songs[0].song, melody=(58, 74))
    place = replace(charts.harbour_set().songs[0], song=song, steps=())
    app = stand_app(replace(charts.harbour_set(), songs=(place,)))
    async with running(app, (100, 30)) as pilot:
        assert app.own.player is not None
        app.own.player = replace(app.own.player, singers=(Singer("Ines", 57, 72), Singer("Olaf", 45, 64)))
        await pilot.press("y")
        before = [row.split()[:4] for row in shown(app) if " mm" in row]
        assert "Ines" in shown(app)[1]
        assert "2 out" in shown(app)[2]
        await pilot.press("s")
        assert "for Olaf, A2 to E4" in shown(app)[0]
        assert "Olaf" in shown(app)[1]
        assert "10 out" in shown(app)[2]
        after = [row.split() for row in shown(app) if " mm" in row]
        assert len(before) == len(after) == 12
        await pilot.press("right")
        assert "for Ines" in shown(app)[0]


@pytest.mark.parametrize("width", [60, 80])
async def test_the_singer_survives_a_narrow_window_with_two_horns(width: int) -> None:
    song = replace(charts.harbour_set().songs[0].song, melody=(58, 72))
    place = replace(charts.harbour_set().songs[0], song=song, steps=())
    app = stand_app(replace(charts.harbour_set(), songs=(place,), horns=("Bb", "Eb")))
    async with running(app, (width, 24)) as pilot:
        app.own.player = replace(app.own.player, singers=(Singer("Ines", 57, 76, 60, 70),))
        await pilot.press("y")
        assert "Ines" in shown(app)[1]
        assert "fits, 4 hard" in shown(app)[2]
        assert shown(app)[1].rstrip().endswith("B♭   E♭")
        assert shown(app)[2].rstrip().endswith("F    C")


async def test_a_key_is_taken_for_tonight() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("y", "down", "enter")
        assert app.session.now.here is not None
        assert app.session.now.here.song.key == "E"


async def test_the_first_chords_stand_in_both_keys_one_below_the_other() -> None:
    app = stand_app()
    async with running(app, (80, 24)) as pilot:
        await pilot.press("y", "down")
        rows = shown(app)
        at = next(number for number, row in enumerate(rows) if row.split()[:2] == ["E♭", "E♭maj7"])
        assert rows[at + 1].split()[:2] == ["E", "Emaj7"]
        assert rows[at].index("E♭maj7") == rows[at + 1].index("Emaj7")


@pytest.mark.parametrize("keys", [("y", "down", "g"), ("k", "plus", "1", "tab")])
async def test_a_key_for_good_is_asked_of_the_song_file(keys: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    app = stand_app()
    asked: list[tuple[int, str]] = []

    async def keep(index: int, key: str) -> None:
        asked.append((index, key))

    monkeypatch.setattr(app.files.songs, "keep_key", keep)
    async with running(app) as pilot:
        await pilot.press(*keys)
        await pilot.pause()
    assert asked == [(0, "E")]


async def test_a_key_is_taken_while_the_hands_are_still_being_planned() -> None:
    app = stand_app()
    planner(app).slow.add("key")
    async with running(app) as pilot:
        await pilot.press("y", "down")
        assert "hands: 0 of 12 keys planned" in text(app)
        assert not any("★" in row for row in shown(app))
        await pilot.press("enter")
        assert app.session.now.here is not None
        assert app.session.now.here.song.key == "E"


async def test_the_keys_next_to_the_songs_own_are_planned_first() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("y")
        asked = [arguments[0].key for task, arguments in planner(app).asked if task == "key"]
        assert asked[:3] == ["Eb", "E", "D"]
        assert len(set(asked)) == 12


async def test_a_planner_that_fails_says_so_under_the_keys(monkeypatch: pytest.MonkeyPatch) -> None:
    app = stand_app()

    async def fail(*_asked: object) -> None:
        raise NotPlanned("the planner gives up on this song")

    monkeypatch.setattr(planner(app), "ask", fail)
    async with running(app) as pilot:
        await pilot.press("y")
        assert "the planner gives up on this song" in text(app)
        assert len([row for row in shown(app) if row.split()[1:2] == ["+1"]]) == 1, "all keys are there to be taken"


async def test_without_a_song_the_keys_say_so_and_no_key_of_theirs_does_harm() -> None:
    app = stand_app(SetList("Evening"))
    async with running(app) as pilot:
        await pilot.press("y")
        assert "no song is open" in text(app)
        await pilot.press("down", "s", "tab", "enter")
        assert "no song is open" in text(app)
