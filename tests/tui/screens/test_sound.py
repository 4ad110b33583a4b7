"""The ports chosen, and what sounds through them."""

from types import SimpleNamespace

import pytest

from tests.tui.showing import running, shown, stand_app, text


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
