"""Every keystroke has one meaning on a screen, and the help says all of them."""

import pytest

from tui.input.commands import COMMANDS, FOOT_SWITCHES, SCREENS
from tui.input.keymap import Keymap, faults

USUAL = Keymap()


def test_no_key_has_two_meanings_on_a_screen() -> None:
    assert faults({}) == ()


@pytest.mark.parametrize("screen", SCREENS)
def test_the_help_lists_every_command_with_a_key(screen: str) -> None:
    lines = USUAL.help(screen)
    assert [words for _, words in lines] == [command.words for command in SCREENS[screen]]
    assert all(keys for keys, _ in lines)


@pytest.mark.parametrize("screen", SCREENS)
def test_every_command_names_its_screen(screen: str) -> None:
    assert all(command.id.partition(".")[0] == screen for command in SCREENS[screen])


def test_no_command_of_the_stage_lies_on_escape_or_needs_two_keys_at_once() -> None:
    keys = [key for command in SCREENS["stand"] for key in USUAL.keys(command.id)]
    assert "escape" not in keys
    assert not [key for key in keys if key.startswith(("ctrl+", "shift+", "alt+")) or (len(key) == 1 and key.isupper())]


@pytest.mark.parametrize("key", ["space", "pagedown", "right", "enter"])
def test_what_pedals_send_is_forward(key: str) -> None:
    assert USUAL.command("stand", key) is COMMANDS["stand.forward"]


def test_foot_switches_give_commands_of_their_screen() -> None:
    for screen, switches in FOOT_SWITCHES.items():
        assert set(switches.values()) <= {command.id for command in SCREENS[screen]}


def test_the_players_own_keys_take_the_place_of_ours() -> None:
    own = Keymap({"stand.forward": "f13"})
    assert own.command("stand", "f13") is COMMANDS["stand.forward"]
    assert own.command("stand", "space") is None


def test_a_clash_is_reported_by_both_names() -> None:
    assert faults({"stand.undo": "k"}) == ("k is both stand.key and stand.undo",)


def test_an_unknown_name_is_reported() -> None:
    assert faults({"stand.fly": "k"}) == ("stand.fly: no such key binding",)


@pytest.mark.parametrize("width", [20, 40, 80, 200])
def test_the_key_line_fits_and_always_names_the_help(width: int) -> None:
    line = USUAL.line("stand", width)
    assert len(line) <= width
    assert line.endswith("? help")


def test_without_arrows_keys_are_written_by_name() -> None:
    assert Keymap(ascii_only=True).line("stand").isascii()


def test_the_words_of_the_help_fit_in_80_columns() -> None:
    assert [command.id for command in COMMANDS.values() if len(command.words) > 54] == []
