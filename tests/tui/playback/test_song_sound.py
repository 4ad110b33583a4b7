"""What the instruments are told of a song, and when the volume is turned."""

from dataclasses import replace

import pytest

from engine.performance.events import control, program
from engine.performance.levels import LOUD, level_of, level_words, louder, master_volume, value_of
from engine.song.model import Midi
from tests.tui import charts
from tests.tui.pretended_clock import app_with_clock, set_up
from tests.tui.showing import running, shown
from tui.audio import BUILT_IN
from tui.persistence import store
from tui.persistence.player import Player as Settings
from tui.playback.song_sound import instruments


def test_every_level_is_found_again_and_the_usual_one_is_that_of_instruments_at_power_up() -> None:
    assert [level_of(value_of(level)) for level in range(11)] == list(range(11))
    assert (value_of(0), value_of(8), value_of(10)) == (0, 100, 127)
    assert level_words(100) == level_words(None) == "8 of 10, usual"


@pytest.mark.parametrize(("value", "levels", "after"), [(None, 1, 112), (None, -1, 88), (127, 1, 127), (0, -1, 0)])
def test_the_volume_goes_up_and_down_by_levels_and_no_further(value: int | None, levels: int, after: int) -> None:
    assert louder(value, levels) == after


async def test_the_volume_key_turns_the_instrument_and_is_kept_and_said() -> None:
    app, clock = set_up(channel=3)
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("f7")
        assert clock.sent_to == [("out", control(7, 88, 3))]
        assert "volume 7 of 10" in shown(app)[0]
        await app.own.saved()
    assert store.load_player().volume == 88


async def test_the_volume_key_turns_the_built_in_sound_over_what_a_song_asks_for() -> None:
    loud = replace(charts.HARBOUR, midi=Midi(volume=127))
    app, clock = app_with_clock(charts.harbour_set(loud))
    async with running(app) as pilot:
        await pilot.press("f7", "f7")
        assert clock.sent_to == [(role, master_volume(value)) for role, value in (("out", 88), ("out", 75))]


async def test_what_is_turned_loud_comes_with_a_word_about_headphones() -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        for level in range(LOUD, 11):
            await pilot.press("f8")
            assert f"volume {level} of 10" in shown(app)[0]
            assert "turn headphones down first" in app.session.message
        await pilot.press("f7")
        assert "headphones" not in app.session.message


async def test_beside_a_port_the_built_in_sound_has_the_songs_own_sound_and_the_port_what_was_asked() -> None:
    store.save_player(Settings(both=True))
    app, clock = app_with_clock(charts.harbour_set(charts.HARBOUR, replace(charts.LAMPS, sound="organ")))
    async with running(app) as pilot:
        app.sound.use("Loft Organ")
        assert clock.opened[-2:] == [("out", "Loft Organ"), ("beside", BUILT_IN)]
        await pilot.press("full_stop")
        assert clock.sent_to == [("beside", program(16)), ("beside", control(7, 100)), ("beside", master_volume(100))]
        app.sound.use(BUILT_IN)
        assert clock.opened[-1] == ("beside", None)


async def test_the_click_has_a_volume_of_its_own_on_its_own_port() -> None:
    app, clock = set_up(click_out="Network 1", click_volume=70)
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("full_stop")
        assert ("click", "Network 1") in clock.opened
        assert ("click", control(7, 70, 10)) in clock.sent_to
        assert not [data for role, data in clock.sent_to if role != "click"]


@pytest.mark.parametrize(
    ("ports", "built_in", "click"),
    [
        ({"out": BUILT_IN}, "out", "out"),
        ({"out": "Loft Organ"}, "", "out"),
        ({"out": "Loft Organ", "beside": BUILT_IN}, "beside", "out"),
        ({"out": "Loft Organ", "click": BUILT_IN}, "click", "click"),
        ({"out": BUILT_IN, "click": BUILT_IN}, "out", "out"),
        ({"out": "", "thru": BUILT_IN}, "thru", "out"),
    ],
)
def test_the_built_in_sound_is_one_instrument_and_the_click_goes_with_it(
    ports: dict[str, str], built_in: str, click: str
) -> None:
    found = instruments(ports, None, None)
    assert (found.built_in, found.click) == (built_in, click)
    assert found.midi == (ports["out"] == "Loft Organ")
