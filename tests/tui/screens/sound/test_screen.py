"""The ports chosen, what sounds through them, and every setting of sound."""

from dataclasses import replace

import pytest

from engine.performance.events import control
from engine.song.model import Midi
from tests.tui import charts
from tests.tui.pretended_clock import app_with_clock, plays, set_up
from tests.tui.showing import Player, running, shown, stand_app, text
from tui.app import StandApp
from tui.persistence import store
from tui.screens.sound.screen import SoundScreen


async def to_line(app: StandApp, pilot: Player, deed: str) -> None:
    """Go to the line that does this, whatever its words are."""
    await pilot.press("m")
    assert isinstance(app.screen, SoundScreen)
    await pilot.press(*["down"] * [line.deed for line in app.screen.lines()].index(deed))


async def test_a_port_is_chosen_from_those_there_are() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await to_line(app, pilot, "port:Network 1")
        await pilot.press("enter")
        assert ("out", "Network 1") in clock.opened
        assert "in use" in next(row for row in shown(app) if "port Network 1" in row)


async def test_a_test_chord_is_played() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await to_line(app, pilot, "test")
        await pilot.press("enter")
        assert clock.done[-1] == "sound"


async def test_each_chord_sounds_as_the_player_steps() -> None:
    app, clock = app_with_clock()
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("p", "space")
        assert clock.done.count("sound_step") == 2


async def test_without_a_port_the_player_is_told_where_to_choose_one() -> None:
    app = stand_app()
    app.sound.port = ""
    async with running(app) as pilot:
        await pilot.press("p")
        assert "no port chosen" in shown(app)[0]


async def test_the_count_in_is_played_with_the_songs_count() -> None:
    app, clock = app_with_clock()
    async with running(app) as pilot:
        await pilot.press("g")
        assert len(clock.played) == 1
        assert "count one bar" in shown(app)[0]


async def test_the_sound_screen_says_what_the_open_song_asks_for() -> None:
    own = replace(charts.HARBOUR, midi=Midi(program=17, bank=87 * 128 + 2))
    app, _ = app_with_clock(charts.harbour_set(own))
    async with running(app) as pilot:
        await pilot.press("m")
        assert any("this song asks for" in row and "program 17, bank 87 2" in row for row in shown(app))


@pytest.mark.parametrize(
    ("deed", "keys", "setting", "value"),
    [
        ("channel", ["right"], "channel", 2),
        ("guide", ["right"], "guide", "none"),
        ("click", ["enter"], "click", False),
        ("count", ["enter"], "count_in", False),
        ("program", ["right", "right"], "program", "1"),
        ("bank", ["right"], "bank", 0),
        ("volume", ["left"], "volume", 127),
        ("role:in", ["right"], "port_in", "Stage Keys"),
        ("role:lead", ["right", "right"], "lead", "Network 1"),
        ("role:follow", ["right", "right"], "follow", "Network 2"),
        ("hands", ["enter"], "hands_step", True),
        ("both", ["enter"], "both", True),
        ("click_volume", ["left"], "click_volume", 127),
        ("role:click", ["right", "right"], "click_out", "Network 1"),
        ("role:thru", ["right"], "thru", "Loft Organ"),
        ("answers", ["right"], "answers", "octaves"),
    ],
)
async def test_a_setting_is_changed_and_kept(deed: str, keys: list[str], setting: str, value: object) -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        await to_line(app, pilot, deed)
        await pilot.press(*keys)
        await app.own.saved()
        assert getattr(store.load_player(), setting) == value


async def test_a_foot_switch_is_learnt_by_pressing_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("engine.performance.player_input.LEARNING", 0.1)
    app, _ = set_up()
    async with running(app) as pilot:
        await to_line(app, pilot, "switch:pedal")
        await pilot.press("enter")
        assert "press it now" in text(app)
        await plays(pilot, control(66, 0), control(66, 127), still=0.8)
        assert "learnt: control 66 channel 1 inverted" in shown(app)[0]
        await pilot.press("escape")
        await plays(pilot, control(66, 0))
        assert app.session.now.step == 1
        assert store.load_player().pedal == "control 66 channel 1 inverted"


@pytest.mark.parametrize("size", [(100, 30), (80, 24), (40, 10), (10, 3)])
async def test_the_sound_screen_fits_every_size_and_shows_the_line_it_is_on(size: tuple[int, int]) -> None:
    app, _ = app_with_clock()
    async with running(app, size) as pilot:
        await to_line(app, pilot, "switch:pedal_cue")
        assert [len(row) for row in shown(app)] == [size[0]] * size[1]
        if size[0] >= 40:
            assert "foot switch: cue" in text(app)
