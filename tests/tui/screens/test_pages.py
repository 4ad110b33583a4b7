"""The screens between songs: set, bars, keys, sound, help."""

import random
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace

import pytest
from rich.cells import cell_len
from textual import events

from tests.tui import charts
from tests.tui.showing import Player, ReadyPlanner, running, shown, stand_app, text
from tui.app import StandApp
from tui.deeds import SCREENS
from tui.keymap import keys_of


def titles(app: StandApp) -> list[str]:
    return [place.song.title for place in app.desk.now.songs]


def planner(app: StandApp) -> ReadyPlanner:
    assert isinstance(app.desk.planner, ReadyPlanner)
    return app.desk.planner


# The set


async def test_the_set_lists_songs_with_key_tempo_and_length() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s")
        assert "SET  Harbour Room" in shown(app)[0]
        assert "3 songs" in shown(app)[0]
        row = next(row for row in shown(app) if "Two Lamps" in row)
        assert row.split()[:6] == ["2", "Two", "Lamps", "Am", "140", "0:07"]


async def test_the_set_names_the_hardest_shift_of_each_planned_song() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert "›" in next(row for row in shown(app) if "Harbour Steps" in row)


async def test_a_song_is_opened_from_the_set() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "down", "enter")
        assert "2/3  Two Lamps" in shown(app)[0]


@pytest.mark.parametrize(("key", "order"), [("right", [1, 0, 2]), ("pagedown", [1, 0, 2])])
async def test_a_song_is_moved_later_and_undone(key: str, order: list[int]) -> None:
    app = stand_app()
    async with running(app) as pilot:
        before = titles(app)
        await pilot.press("s", key)
        assert titles(app) == [before[index] for index in order]
        await pilot.press("u")
        assert titles(app) == before
        await pilot.press("r")
        assert titles(app) == [before[index] for index in order]


async def test_the_first_song_cannot_be_moved_earlier() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "left")
        assert "it is there already" in shown(app)[0]


async def test_a_song_is_dropped_after_a_question() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "down", "x")
        assert "drop Two Lamps from the set?" in shown(app)[0]
        await pilot.press("enter")
        assert titles(app) == ["Harbour Steps", "Slow Ferry"]


async def test_any_other_key_keeps_the_song() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "x", "down")
        assert len(titles(app)) == 3


async def test_a_song_that_is_not_open_gets_another_key_and_tempo() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("s", "down", "down", "k", "e", "enter", "t", "7", "0", "enter")
        song = app.desk.now.songs[2].song
        assert (song.key, song.tempo) == ("E", 70.0)
        assert app.desk.now.song == 0


async def test_a_song_file_is_added_by_name(tmp_path: Path) -> None:
    from engine.song.writer import write_song

    (tmp_path / "more.toml").write_text(write_song(replace(charts.LAMPS, title="One More")))
    (tmp_path / "set.toml").write_text("")
    app = stand_app(path=tmp_path / "set.toml")
    app.desk.file._slots = ()
    async with running(app) as pilot:
        await pilot.press("s", "a", *"more.toml", "enter")
        assert titles(app)[-1] == "One More"


async def test_a_file_that_is_not_there_is_said(tmp_path: Path) -> None:
    (tmp_path / "set.toml").write_text("")
    app = stand_app(path=tmp_path / "set.toml")
    app.desk.file._slots = ()
    async with running(app) as pilot:
        await pilot.press("s", "a", *"none.toml", "enter")
        assert "no such file" in shown(app)[0]
        assert len(titles(app)) == 3


async def test_a_song_whose_file_is_gone_is_kept_and_marked() -> None:
    app = stand_app(replace(charts.harbour_set(), missing=(("songs/gone.toml", "there is no such file"),)))
    async with running(app) as pilot:
        await pilot.press("s")
        assert "songs/gone.toml: there is no such file" in text(app)


async def test_a_song_played_to_its_end_is_ticked() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "t", "space", "s")
        assert "✓" in next(row for row in shown(app) if "Harbour Steps" in row)
        assert "1 walked through" in shown(app)[0]


async def test_a_title_of_300_letters_and_wide_letters_keep_the_picture_whole() -> None:
    songs = (replace(charts.LAMPS, title="x" * 300), replace(charts.FERRY, title="渡し船 מעבורת"))
    app = stand_app(charts.harbour_set(*songs))
    async with running(app) as pilot:
        for keys in (("s",), ("s", "full_stop"), ("space",)):
            await pilot.press(*keys)
            strips = app.screen._compositor.render_strips(app.size)
            assert {strip.cell_length for strip in strips} == {80}


# The song in bars


async def test_the_bars_show_every_chord_over_its_effort() -> None:
    app = stand_app()
    async with running(app, (100, 40)) as pilot:
        await pilot.press("b")
        assert "BARS  Harbour Steps" in shown(app)[0]
        assert "E♭maj7" in text(app)
        assert "Verse, pass 1 of 3" in text(app)
        assert "effort" in text(app)


async def test_the_stand_goes_on_where_the_cursor_was() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "right", "right", "right", "enter")
        assert app.desk.now.step == 3


async def test_down_is_the_next_bar() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "down", "down", "down", "down", "enter")
        assert app.desk.now.step == 5


async def test_the_hardest_shift_is_one_key_away() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "w", "enter")
        plan = app.desk.plan
        assert plan is not None
        assert plan.steps[app.desk.now.step].effort == max(step.effort for step in plan.steps)


async def test_a_voicing_is_pinned_and_unpinned() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "p")
        assert "pinned as it stands" in shown(app)[0]
        assert app.desk.now.here is not None
        assert len(app.desk.now.here.song.pins) == 1
        assert "◆" in text(app)
        await pilot.press("p")
        assert app.desk.now.here.song.pins == ()


async def test_a_pin_is_asked_of_the_planner() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "p")
        await pilot.pause()
        _, request = planner(app).asked[-1]
        assert len(request.pins) == 1


async def test_a_loop_is_marked_and_the_stand_goes_round_it() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("b", "l", "right", "right", "l", "q", "space", "space", "space")
        assert app.desk.now.step == 0
        await pilot.press("b", "l")
        assert app.desk.now.loop is None


async def test_another_voicing_is_chosen_with_its_price_and_pinned() -> None:
    one = SimpleNamespace(
        left=(48,), right=(60, 64), left_fingers=(5,), right_fingers=(1, 3), names=("C3", "C4", "E4"), price=0.0
    )
    other = SimpleNamespace(
        left=(48,), right=(64, 67), left_fingers=(5,), right_fingers=(1, 2), names=("C3", "E4", "G4"), price=2.5
    )
    app = stand_app()
    planner(app).answers["alternatives"] = (one, other)
    async with running(app) as pilot:
        await pilot.press("o")
        await pilot.pause()
        assert "1/2  L C3  R C4 E4  as planned" in shown(app)[0]
        await pilot.press("down")
        assert "2/2  L C3  R E4 G4  costs 2.5" in shown(app)[0]
        await pilot.press("enter")
        assert app.desk.now.here is not None
        assert app.desk.now.here.song.pins[0].right == (64, 67)


PIER = """\
title = "Pier Lights"   # ours
key = "C"
meter = "4/4"
tempo = 100

[sections.Verse]
bars = "| Dm7 | G7 | Cmaj7 | % |"
"""


@pytest.fixture
def pier(tmp_path: Path) -> StandApp:
    """A set of one song, in files."""
    (tmp_path / "pier.toml").write_text(PIER)
    (tmp_path / "set.toml").write_text('title = "Pier"\n[[songs]]\nfile = "pier.toml"\nkey = "D"\n')
    from tui import store

    return stand_app(store.open_set(tmp_path / "set.toml"), path=tmp_path / "set.toml")


async def waited(pilot: Player, app: StandApp, words: str) -> None:
    for _ in range(100):
        if words in text(app):
            return
        await pilot.pause(0.02)
    assert words in text(app)


async def test_a_bar_is_edited_in_the_songs_own_file_and_key(pier: StandApp, tmp_path: Path) -> None:
    async with running(pier) as pilot:
        await pilot.press("b", "right", "e")
        await waited(pilot, pier, "Verse bar 2 in C: G7_")
        await pilot.press("backspace", "backspace", *"Dm7 G7")
        assert "Dm7 2  G7 2" in shown(pier)[0]
        await pilot.press("enter")
        await waited(pilot, pier, "is written into")
        assert (tmp_path / "pier.toml").read_text() == PIER.replace("| G7 |", "| Dm7 G7 |")
        assert [step.symbol for step in pier.desk.now.steps][1:3] == ["Em7", "A7"]


async def test_a_faulty_bar_says_what_is_wrong_and_is_not_written(pier: StandApp, tmp_path: Path) -> None:
    async with running(pier) as pilot:
        await pilot.press("b", "e")
        await waited(pilot, pier, "Verse bar 1 in C: Dm7_")
        await pilot.press(*"xyz", "enter")
        assert "not written: Verse bar 1 in C: Dm7xyz_" in shown(pier)[0]
        assert (tmp_path / "pier.toml").read_text() == PIER
        await pilot.press("backspace", "backspace", "backspace", "enter")
        await waited(pilot, pier, "is written into")


async def test_emptying_a_line_and_moving_in_it_do_not_end_it(pier: StandApp, tmp_path: Path) -> None:
    async with running(pier) as pilot:
        await pilot.press("b", "e")
        await waited(pilot, pier, "Verse bar 1 in C: Dm7_")
        await pilot.press(*["backspace"] * 9, *"Am", "left", "right")
        assert "Verse bar 1 in C: Am_" in shown(pier)[0]
        assert (tmp_path / "pier.toml").read_text() == PIER


async def test_a_line_takes_what_is_pasted(pier: StandApp) -> None:
    async with running(pier) as pilot:
        await pilot.press("s", "a")
        pier.screen.post_message(events.Paste("songs/low tide.toml\n"))
        await pilot.pause()
        assert "song file to add: songs/low tide.toml_" in shown(pier)[0]


# The keys


async def test_twelve_keys_are_compared_and_the_best_is_marked() -> None:
    app = stand_app(replace(charts.harbour_set(), horns=("Bb",)))
    planner(app).answers["keys"] = charts.key_rows()
    async with running(app, (100, 30)) as pilot:
        await pilot.press("y")
        rows = [row for row in shown(app) if " mm" in row]
        assert len(rows) == 12
        assert rows[-1].split()[:4] == ["★", "D", "+11", "29"]
        assert "Bb horn" in text(app)
        assert "reason Eb" in text(app)


async def test_a_key_is_taken_for_tonight() -> None:
    app = stand_app()
    planner(app).answers["keys"] = charts.key_rows()
    async with running(app) as pilot:
        await pilot.press("y", "down", "enter")
        assert app.desk.now.here is not None
        assert app.desk.now.here.song.key == "E"


async def test_the_first_chords_stand_in_both_keys_one_below_the_other() -> None:
    app = stand_app()
    planner(app).answers["keys"] = charts.key_rows()
    async with running(app, (80, 24)) as pilot:
        await pilot.press("y", "down")
        rows = shown(app)
        at = next(number for number, row in enumerate(rows) if row.split()[:2] == ["E♭", "E♭maj7"])
        assert rows[at + 1].split()[:2] == ["E", "Emaj7"]
        assert rows[at].index("E♭maj7") == rows[at + 1].index("Emaj7")


@pytest.mark.parametrize("keys", [("y", "down", "g"), ("k", "plus", "1", "tab")])
async def test_a_key_for_good_is_asked_of_the_song_file(keys: tuple[str, ...], monkeypatch: pytest.MonkeyPatch) -> None:
    app = stand_app()
    planner(app).answers["keys"] = charts.key_rows()
    asked: list[tuple[int, str]] = []

    async def keep(index: int, key: str) -> None:
        asked.append((index, key))

    monkeypatch.setattr(app.desk.bars, "keep_key", keep)
    async with running(app) as pilot:
        await pilot.press(*keys)
        await pilot.pause()
    assert asked == [(0, "E")]


async def test_keys_that_are_still_being_planned_are_awaited() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("y", "down", "enter")
        assert "planning the song in twelve keys" in text(app)


# Sound and help


class SilentClock:
    """A clock that plays nothing and remembers what it was asked."""

    status = "plays through Room Piano"

    def __init__(self) -> None:
        self.done: list[tuple[str, object]] = []

    def ports(self) -> object:
        return SimpleNamespace(outputs=("Room Piano", "Loft Organ"), inputs=(), trouble="")

    def __getattr__(self, name: str) -> object:
        return lambda *arguments, **options: self.done.append((name, arguments))


@pytest.fixture
def clock(monkeypatch: pytest.MonkeyPatch) -> SilentClock:
    silent = SilentClock()
    monkeypatch.setattr("tui.sound.Sound.clock", silent)
    return silent


async def test_a_port_is_chosen_from_those_there_are(clock: SilentClock) -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("m")
        assert "port Loft Organ" in text(app)
        await pilot.press(*["down"] * 6, "enter")
        assert ("open", ("Loft Organ",)) in clock.done
        assert "in use" in next(row for row in shown(app) if "Loft Organ" in row)


async def test_a_test_chord_is_played_and_silenced(clock: SilentClock) -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("m", "down", "down", "down", "enter")
        assert clock.done[-1][0] == "sound"


async def test_each_chord_sounds_as_the_player_steps(clock: SilentClock) -> None:
    app = stand_app()
    app.sound.port = "Room Piano"
    async with running(app) as pilot:
        await pilot.press("p", "space")
        assert [name for name, _ in clock.done].count("sound_step") == 2


async def test_without_a_port_the_player_is_told_where_to_choose_one() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("p")
        assert "no MIDI port chosen" in shown(app)[0]


async def test_the_count_in_is_played_with_the_songs_count(clock: SilentClock) -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("g")
        assert clock.done[-1][0] == "play"
        assert "count one bar" in shown(app)[0]


@pytest.mark.parametrize("screen", ["stand", "set", "chart", "keys"])
async def test_the_help_shows_every_binding_of_the_screen_under_it(screen: str) -> None:
    app = stand_app()
    async with running(app, (110, 60)) as pilot:
        if screen != "stand":
            await pilot.press(keys_of(f"stand.{screen}")[0])
        await pilot.press("question_mark")
        for deed in SCREENS[screen]:
            assert deed.words in text(app), deed.name


async def test_help_is_left_with_the_key_that_opened_it() -> None:
    app = stand_app()
    async with running(app) as pilot:
        before = shown(app)
        await pilot.press("question_mark", "question_mark")
        assert shown(app) == before


@pytest.mark.parametrize("screen", ["set", "chart", "keys", "help"])
@pytest.mark.parametrize("size", [(80, 24), (40, 10), (10, 3)])
async def test_every_page_fits_every_size(screen: str, size: tuple[int, int]) -> None:
    app = stand_app()
    async with running(app, size) as pilot:
        await pilot.press(keys_of(f"stand.{screen}")[0], "down", "up")
        assert [len(row) for row in shown(app)] == [size[0]] * size[1]


@pytest.mark.parametrize("seed", [1, 2])
async def test_any_keys_in_any_order_leave_a_whole_picture(seed: int) -> None:
    dice = random.Random(seed)
    keys = sorted(
        {key for screen in SCREENS.values() for deed in screen for key in keys_of(deed.name)} - {"q", "g", "i"}
    )
    app = stand_app()
    async with running(app, dice.choice([(80, 24), (120, 36), (40, 10)])) as pilot:
        for _ in range(100):
            await pilot.press(dice.choice(keys))
            assert {len(row) for row in shown(app)} == {app.size.width}


# Narrow screens


async def test_on_a_narrow_screen_the_help_is_broken_into_rows_and_loses_no_word() -> None:
    app = stand_app()
    async with running(app, (60, 40)) as pilot:
        await pilot.press("question_mark")
        seen = " ".join(text(app).split())
        assert "give the cue: leave the vamp when its round is through" in seen
        assert not [row for row in shown(app) if row.rstrip().endswith("…")]


async def test_wide_letters_in_a_title_leave_the_keys_in_one_column() -> None:
    songs = (replace(charts.LAMPS, title="渡し船の歌", key="Bb"), replace(charts.FERRY, title="Ferry", key="Bb"))
    app = stand_app(charts.harbour_set(*songs))
    async with running(app) as pilot:
        await pilot.press("s")
        rows = [row for row in shown(app) if row.lstrip()[:1] in ("1", "2")]
        places = {cell_len(row[: row.index("B♭")]) for row in rows}
        assert len(places) == 1


async def test_a_long_note_of_a_song_is_read_whole_in_the_set() -> None:
    note = "start from the bridge if the singer is late, then twice round the tag and out on the cue of the drums"
    app = stand_app(charts.harbour_set(replace(charts.LAMPS, note=note)))
    async with running(app) as pilot:
        await pilot.press("s")
        assert note in " ".join(text(app).split())


async def test_on_a_low_screen_the_chosen_key_and_the_chosen_line_of_sound_stay_in_sight() -> None:
    app = stand_app()
    planner(app).answers["keys"] = charts.key_rows()
    async with running(app, (40, 10)) as pilot:
        await pilot.press("y", *["down"] * 11)
        assert any("  ★ D " in row for row in shown(app))
        await pilot.press("escape", "m", *["down"] * 3)
        assert any("test chord" in row for row in shown(app))
        assert sum("   " in row for row in shown(app)) > 4
