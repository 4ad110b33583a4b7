"""The player's keyboard and foot switches on the stand, and other copies that lead and follow."""

import time
from dataclasses import replace

import pytest

from engine.perform.events import control, note_off, note_on, program
from engine.perform.following import Place
from engine.song.model import Midi
from tests.tui import charts
from tests.tui.pretended_clock import PretendedClock, app_with_clock, plays, says
from tests.tui.showing import Player, running, shown, text
from tui import decisions, practice_log, store
from tui.app import StandApp
from tui.hands import Hands
from tui.player import Player as Settings

PEDAL = "control 64 channel 1"


def set_up(**settings: object) -> tuple[StandApp, PretendedClock]:
    """The stand with the player's settings as they are found at the start."""
    store.save_player(replace(Settings(), port_in="Stage Keys", **settings))  # type: ignore[arg-type]
    return app_with_clock()


def chord(app: StandApp, step: int) -> list[bytes]:
    assert app.desk.plan is not None
    return [note_on(key) for key in app.desk.plan.steps[step].keys]


def released(app: StandApp) -> list[bytes]:
    return [note_off(key) for key in app.held]


def status(app: StandApp) -> str:
    return app.status_line()


async def test_the_players_port_is_listened_to() -> None:
    app, clock = set_up()
    async with running(app):
        assert ("in", "Stage Keys") in clock.opened


async def test_a_foot_switch_is_forward() -> None:
    app, _ = set_up(pedal=PEDAL)
    async with running(app) as pilot:
        await plays(pilot, control(64, 127), control(64, 0))
        assert app.desk.now.step == 1


async def test_a_foot_switch_says_yes_to_a_question() -> None:
    app, _ = set_up(pedal=PEDAL)
    async with running(app) as pilot:
        await pilot.press("t", "1", "0", "0")
        await plays(pilot, control(64, 127))
        assert "♩=100" in shown(app)[0]
        assert app.desk.now.step == 0


async def test_other_switches_go_back_and_give_the_cue() -> None:
    app, clock = set_up(pedal_back="control 66 channel 1", pedal_cue="control 67 channel 1")
    async with running(app) as pilot:
        app.desk.become(replace(app.desk.now, step=22))
        await plays(pilot, control(67, 127))
        assert app.desk.now.cued
        assert "cue" in clock.done
        await plays(pilot, control(66, 127))
        assert app.desk.now.step == 21


async def test_a_switch_is_deaf_on_a_page() -> None:
    app, _ = set_up(pedal=PEDAL)
    async with running(app) as pilot:
        await pilot.press("s")
        await plays(pilot, control(64, 127))
        assert app.desk.now.step == 0


async def test_held_keys_are_drawn_and_the_chord_is_found() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        before = text(app)
        await plays(pilot, *chord(app, 0))
        assert app.held == app.desk.plan.steps[0].keys  # type: ignore[union-attr]
        assert text(app) != before
        assert status(app).startswith("found")
        assert app.desk.now.step == 0


async def test_the_chord_an_octave_up_is_found_elsewhere() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await plays(pilot, *(note_on(data[1] + 12) for data in chord(app, 0)))
        assert status(app).startswith("found elsewhere")


async def test_what_is_missing_is_named() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await plays(pilot, *chord(app, 0)[:-1])
        assert status(app).startswith("missing ")


async def test_what_is_wrong_is_named() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await plays(pilot, note_on(64), note_on(66))
        assert status(app).startswith("wrong E4 F#4")


async def test_nothing_steps_unless_the_player_wants_it() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await plays(pilot, *chord(app, 0))
        await plays(pilot, *released(app), *chord(app, 1))
        assert app.desk.now.step == 0


async def test_the_stand_follows_the_hands_from_chord_to_chord() -> None:
    app, _ = set_up(hands_step=True)
    async with running(app) as pilot:
        await plays(pilot, *chord(app, 0))
        assert app.desk.now.step == 0
        for step in range(1, 5):
            await plays(pilot, *released(app), *chord(app, step))
            assert app.desk.now.step == step
            assert status(app).startswith("found")


async def test_the_stand_waits_while_the_next_chord_is_not_complete() -> None:
    app, _ = set_up(hands_step=True)
    async with running(app) as pilot:
        await plays(pilot, *chord(app, 0))
        await plays(pilot, *released(app), *chord(app, 1)[:-1])
        assert app.desk.now.step == 0
        assert status(app).startswith("next: missing")
        await plays(pilot, chord(app, 1)[-1])
        assert app.desk.now.step == 1


async def test_in_time_a_found_chord_says_how_late_it_was() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 1)
        await plays(pilot, *chord(app, 1))
        assert status(app).startswith("found +0.")


async def test_how_late_each_shift_was_is_kept_when_the_song_ends() -> None:
    app, _ = set_up()
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 1, at=time.monotonic() - 0.2)
        await plays(pilot, *chord(app, 1))
        await pilot.press("i")
        await pilot.pause(0.3)
    (ride,) = practice_log.load().rides
    ((_, late),) = ride.late
    assert ride.title == charts.HARBOUR.title
    assert 0.15 < late < 2.0


async def test_in_time_the_hands_do_not_step() -> None:
    app, _ = set_up(hands_step=True)
    async with running(app) as pilot:
        await pilot.press("i")
        await says(pilot, "step", 0)
        await plays(pilot, *chord(app, 0))
        await plays(pilot, *released(app), *chord(app, 1))
        assert app.along.on
        assert app.desk.now.step == 0


# A song's sound


async def test_a_note_for_the_song_does_not_call_its_sound_up_again() -> None:
    store.save_player(Settings(program="17"))
    app, clock = app_with_clock()
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        app.desk.become(decisions.noted(app.desk.now, "", "watch the singer"))
        await pilot.press("space")
        assert clock.sent == []


async def test_a_song_calls_up_its_sound_on_entry() -> None:
    app, clock = set_up(program="17", bank=1, volume=100, channel=2)
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("full_stop")
        assert clock.sent == [control(0, 0, 2), control(32, 1, 2), program(16, 2), control(7, 100, 2)]


async def test_what_a_song_asks_for_goes_before_the_players_settings() -> None:
    store.save_player(Settings(program="17", bank=1, volume=100, channel=2))
    own = replace(charts.LAMPS, midi=Midi(channel=3, program=5))
    app, clock = app_with_clock(charts.harbour_set(charts.HARBOUR, own))
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("full_stop")
        assert clock.sent == [program(4, 3), control(7, 100, 3)]
        await pilot.press("comma")
        assert clock.sent[2:] == [control(0, 0, 2), control(32, 1, 2), program(16, 2), control(7, 100, 2)]


async def test_the_sound_screen_says_what_the_open_song_asks_for() -> None:
    own = replace(charts.HARBOUR, midi=Midi(program=17, bank=87 * 128 + 2))
    app, _ = app_with_clock(charts.harbour_set(own))
    async with running(app) as pilot:
        await pilot.press("m")
        assert any("this song asks for" in row and "program 17, bank 87 2" in row for row in shown(app))


async def test_a_songs_own_word_chooses_the_program() -> None:
    store.save_player(Settings(program="song"))
    pad = replace(charts.LAMPS, sound="pad")
    app, clock = app_with_clock(charts.harbour_set(charts.HARBOUR, pad))
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("full_stop")
        assert clock.sent == [program(89)]


async def test_unasked_nothing_is_sent_to_the_instrument() -> None:
    app, clock = app_with_clock()
    app.sound.port = "Loft Organ"
    async with running(app) as pilot:
        await pilot.press("full_stop", "comma")
        assert clock.sent == []


# Other copies


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


async def test_a_follower_shows_the_same_place() -> None:
    app, clock = app_with_clock(follow="Network 2")
    async with running(app) as pilot:
        assert ("follow", "Network 2") in clock.opened
        await says(pilot, "place", place=Place(0, 33, True))
        assert app.desk.now.step == 2
        await says(pilot, "place", place=Place(2, 16, True))
        assert "3/3  Slow Ferry" in shown(app)[0]
        assert app.desk.now.step == 1


async def test_a_follower_shows_the_leaders_beat() -> None:
    app, _ = app_with_clock(follow="Network 2")
    async with running(app) as pilot:
        for sixteenth, light in ((0, "● 1"), (4, "○ 2"), (15, "○ 4"), (16, "● 1"), (56, "○ 3")):
            await says(pilot, "place", place=Place(0, sixteenth, True))
            assert shown(app)[0].rstrip().endswith(light)
        await says(pilot, "place", place=Place(0, 60, False))
        assert shown(app)[0].rstrip().endswith("4/4")


async def test_a_follower_without_the_song_says_so_and_stays() -> None:
    app, _ = app_with_clock(follow="Network 2")
    async with running(app) as pilot:
        await says(pilot, "place", place=Place(7, 0, True))
        assert "the leader is at song 8" in text(app)
        await says(pilot, "place", place=Place(1, 0, True))
        assert "2/3" in shown(app)[0]
        assert "the leader is at song 8" not in text(app)


# The sound screen


async def to_line(app: StandApp, pilot: Player, words: str) -> None:
    await pilot.press("m")
    number = next(n for n, line in enumerate(app.screen.lines()) if line.name.startswith(words))  # type: ignore
    await pilot.press(*["down"] * number)


@pytest.mark.parametrize(
    ("words", "keys", "setting", "value"),
    [
        ("channel", ["right"], "channel", 2),
        ("played along", ["right"], "guide", "none"),
        ("click", ["enter"], "click", False),
        ("count in", ["enter"], "count_in", False),
        ("program", ["right", "right"], "program", "1"),
        ("bank", ["right"], "bank", 0),
        ("volume", ["left"], "volume", 127),
        ("listen to", ["right"], "port_in", "Stage Keys"),
        ("lead", ["right", "right"], "lead", "Network 1"),
        ("follow", ["right", "right"], "follow", "Network 2"),
        ("the stand steps", ["enter"], "hands_step", True),
    ],
)
async def test_a_setting_is_changed_and_kept(words: str, keys: list[str], setting: str, value: object) -> None:
    app, _ = app_with_clock()
    async with running(app) as pilot:
        await to_line(app, pilot, words)
        await pilot.press(*keys)
        await app.workers.wait_for_complete([one for one in app.workers if one.group == "player"])
        assert getattr(store.load_player(), setting) == value


async def test_a_foot_switch_is_learnt_by_pressing_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("engine.perform.ears.LEARNING", 0.1)
    app, _ = set_up()
    async with running(app) as pilot:
        await to_line(app, pilot, "foot switch: next")
        await pilot.press("enter")
        assert "press it now" in text(app)
        await plays(pilot, control(66, 0), control(66, 127), still=0.8)
        assert "learnt: control 66 channel 1 inverted" in shown(app)[0]
        await pilot.press("escape")
        await plays(pilot, control(66, 0))
        assert app.desk.now.step == 1
        assert store.load_player().pedal == "control 66 channel 1 inverted"


def test_learning_is_given_up() -> None:
    app, _ = app_with_clock()
    hands = Hands(app.desk)
    hands.learn("pedal")
    hands.learn("")
    assert hands.learnt(0.0) is None
    assert hands.ears.learning is None


@pytest.mark.parametrize("size", [(100, 30), (80, 24), (40, 10), (10, 3)])
async def test_the_sound_screen_fits_every_size_and_shows_the_line_it_is_on(size: tuple[int, int]) -> None:
    app, _ = app_with_clock()
    async with running(app, size) as pilot:
        await to_line(app, pilot, "foot switch: cue")
        assert [len(row) for row in shown(app)] == [size[0]] * size[1]
        if size[0] >= 40:
            assert "foot switch: cue" in text(app)
