"""The player's settings as they are read from a file; what cannot be used is said."""

import pytest

from tui.persistence.player_reader import read_player


@pytest.mark.parametrize(("text", "guide"), [("guide = true", "step"), ("guide = false", "none")])
def test_a_guide_that_an_older_file_switches_on_or_off_is_read(text: str, guide: str) -> None:
    assert read_player(text).guide == guide


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


def test_the_songs_own_program_is_one_word() -> None:
    assert read_player('program = "song"').program == "song"
