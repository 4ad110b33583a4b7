"""Every key has one meaning on a screen, and the help says all of them."""

import pytest

from tui.input import keymap
from tui.input.commands import SCREENS
from tui.input.keymap import STAGE, deeds, faults, help_lines, key_line, keys_of


def test_no_key_has_two_meanings_on_a_screen() -> None:
    assert faults({}) == ()


def test_every_binding_has_keys_and_every_key_a_binding() -> None:
    names = {deed.name for screen in SCREENS.values() for deed in screen}
    assert names == set(STAGE)


@pytest.mark.parametrize("screen", SCREENS)
def test_the_help_lists_every_deed_with_a_key(screen: str) -> None:
    lines = help_lines(screen)
    assert [words for _, words in lines] == [deed.words for deed in SCREENS[screen]]
    assert all(keys for keys, _ in lines)


def test_no_stage_deed_lies_on_escape_or_needs_two_keys_at_once() -> None:
    keys = [key for deed in SCREENS["stand"] for key in keys_of(deed.name)]
    assert "escape" not in keys
    assert not [key for key in keys if key.startswith(("ctrl+", "shift+", "alt+")) or (len(key) == 1 and key.isupper())]


@pytest.mark.parametrize("key", ["space", "pagedown", "right", "enter"])
def test_what_pedals_send_is_forward(key: str) -> None:
    assert deeds("stand")[key] == "forward"


def test_the_players_own_keys_take_the_place_of_ours() -> None:
    own = {"stand.forward": "f13"}
    assert deeds("stand", own)["f13"] == "forward"
    assert "space" not in deeds("stand", own)


def test_a_clash_is_reported_by_both_names() -> None:
    assert faults({"stand.undo": "k"}) == ("k is both stand.key and stand.undo",)


def test_an_unknown_name_is_reported() -> None:
    assert faults({"stand.fly": "k"}) == ("stand.fly: no such key binding",)


@pytest.mark.parametrize("width", [20, 40, 80, 200])
def test_the_key_line_fits_and_always_names_the_help(width: int) -> None:
    line = key_line("stand", width=width)
    assert len(line) <= width
    assert line.endswith("? help")


@pytest.mark.parametrize("screen", SCREENS)
def test_textual_is_told_the_same_bindings(screen: str) -> None:
    assert [binding.id for binding in keymap.bindings(screen)] == [deed.name for deed in SCREENS[screen]]


def test_the_words_of_the_help_fit_in_80_columns() -> None:
    assert [deed.name for screen in SCREENS.values() for deed in screen if len(deed.words) > 54] == []
