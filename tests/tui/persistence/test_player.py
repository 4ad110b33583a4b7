"""The player's settings as they are written in a file."""

import pytest

from tui.persistence.player import Player, Singer, read_player, write_player

PLAYER = Player(
    register=(36, 96),
    reach=(200.0, 190.5), port_out="Piano", pedal="control 64 channel 1 inverted", channel=3, theme="light",
    guide="early", click=False, hands_step=True, lead="Network 1", follow="Network 2", pedal_cue="note 36 channel 10",
    program="17", bank=1, volume=100,
    singers=(Singer("Ines", 55, 74, 57, 72), Singer("Bo", 40, 60)), keys=(("stand.forward", "space"),),
)  # fmt: skip


@pytest.mark.parametrize(("text", "guide"), [("guide = true", "step"), ("guide = false", "none")])
def test_a_guide_that_an_older_file_switches_on_or_off_is_read(text: str, guide: str) -> None:
    assert read_player(text).guide == guide


def test_a_program_is_a_number_or_the_songs_own() -> None:
    assert "program = 17" in write_player(Player(program="17"))
    assert read_player('program = "song"').program == "song"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('reach = "huge"', "no reach"),
        ("reach = 20", "no reach"),
        ('register = ["C2", "E3"]', "two octaves apart"),
        ("register = 48", "two octaves apart"),
        ("reach = [1, 2, 3]", "no reach"),
        ('theme = "pink"', "theme is none of"),
        ("channel = 17", "channel"),
        ("guide = 3", "guide"),
        ("pedal = 64", "pedal"),
        ('pedal = "64"', "write it as control 64"),
        ("program = 0", "program is no number"),
        ("bank = 20000", "bank is no number"),
        ("volume = -1", "volume is no number"),
        ('click = "yes"', "click is neither"),
        ('pink = "floyd"', "pink means nothing"),
        ("[[singers]]\nname = 'x'", "a singer has"),
        ("singers = 3", "singers"),
        ("keys = 3", "[keys]"),
    ],
)
def test_a_setting_that_cannot_be_used_is_left_out_and_said(text: str, words: str) -> None:
    player = read_player(text)
    assert words in " ".join(player.notes)
    assert player.channel == 1


def test_a_player_is_written_and_read_the_same() -> None:
    assert read_player(write_player(PLAYER)) == PLAYER
