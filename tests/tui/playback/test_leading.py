"""One copy leads, the others follow."""

from dataclasses import replace

import pytest

from engine.performance.following import SELECT, Place
from tests.tui import charts
from tests.tui.pretended_clock import app_with_clock, says
from tests.tui.showing import running, shown, text


async def test_the_leader_tells_every_step() -> None:
    app, clock = app_with_clock(lead="Network 1")
    async with running(app) as pilot:
        assert ("lead", "Network 1") in clock.opened
        await pilot.press("space", "space", "full_stop")
        assert clock.led == [(0, 0), (0, 16), (0, 32), (1, 0)]


async def test_the_leader_says_where_a_played_song_was_stopped() -> None:
    app, clock = app_with_clock(lead="Network 1")
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 2)
        assert clock.led == [(0, 0)]  # the time sent along says it
        await pilot.press("i")
        assert clock.led[-1] == (0, 32)


@pytest.mark.parametrize("numbers", [(1, 2, 3), (1, 3, 4)])
async def test_a_played_song_is_told_by_its_number_in_the_set_though_another_does_not_open(numbers) -> None:
    places = charts.harbour_set().songs
    songs = tuple(replace(place, number=number) for place, number in zip(places, numbers, strict=True))
    app, clock = app_with_clock(replace(charts.harbour_set(), songs=songs, missing=(("gone.toml", "no such file"),)))
    app.sound.ports["lead"] = "Network 1"
    async with running(app) as pilot:
        await pilot.press("full_stop", "i")
        selected = {data[1] for _, data in clock.played[0].messages if data[0] == SELECT}
        assert selected == {numbers[1] - 1}


async def test_a_follower_shows_the_same_place() -> None:
    app, clock = app_with_clock(follow="Network 2")
    async with running(app) as pilot:
        assert ("follow", "Network 2") in clock.opened
        await says(pilot, "place", place=Place(0, 33, True))
        assert app.session.now.step == 2
        await says(pilot, "place", place=Place(2, 16, True))
        assert "3/3  Slow Ferry" in shown(app)[0]
        assert app.session.now.step == 1


async def test_a_follower_shows_the_leaders_beat() -> None:
    app, _ = app_with_clock(follow="Network 2")
    async with running(app) as pilot:
        for sixteenth, light in ((0, "● 1"), (4, "○ 2"), (15, "○ 4"), (16, "● 1"), (56, "○ 3")):
            await says(pilot, "place", place=Place(0, sixteenth, True))
            assert shown(app)[0].rstrip().endswith(light)
        await says(pilot, "place", place=Place(0, 60, False))
        assert shown(app)[0].rstrip().endswith("4/4")


async def test_a_followers_guide_ends_when_the_leader_stops_or_is_lost() -> None:
    app, clock = app_with_clock(follow="Network 2")
    async with running(app) as pilot:
        app.step_sound.on = True
        await says(pilot, "place", place=Place(0, 16, True))
        assert "silence" not in clock.done
        await says(pilot, "place", place=Place(0, 20, False))
        assert clock.done[-1] == "silence"


async def test_a_follower_without_the_song_says_so_and_stays() -> None:
    app, _ = app_with_clock(follow="Network 2")
    async with running(app) as pilot:
        await says(pilot, "place", place=Place(7, 0, True))
        assert "the leader is at song 8" in text(app)
        await says(pilot, "place", place=Place(1, 0, True))
        assert "2/3" in shown(app)[0]
        assert "the leader is at song 8" not in text(app)
