"""Tonight's changes go into the set's own text, and nothing else of it changes."""

from dataclasses import replace
from fractions import Fraction

import pytest

from engine.song.model import Pin
from tui.persistence.set_changes import Entry, Slots, Unopened, changed_text

TEXT = """\
# our evening
title = "Harbour Room"   # upstairs

[[songs]]
file = "a.toml"
key  = "D"               # for Ines

[[songs]]
file = "gone.toml"

[[songs]]
file = "b.toml"

[[songs]]
file = "a.toml"          # again, as an encore
"""
A = Entry("a.toml", 0, "D", 100.0, "", ())
B = Entry("b.toml", 0, "C", 90.0, "", ())
ENCORE = Entry("a.toml", 1, "Eb", 100.0, "", ())
GONE = Unopened("gone.toml", -1)
BEFORE = (A, GONE, B, ENCORE)


def songs(text: str) -> list[str]:
    return [line.split('"')[1] for line in text.splitlines() if line.startswith("file")]


def test_nothing_changed_is_the_same_text() -> None:
    assert changed_text(TEXT, BEFORE, BEFORE) == TEXT


def test_tonights_key_changes_one_line_and_keeps_its_comment() -> None:
    text = changed_text(TEXT, BEFORE, (replace(A, key="F"), GONE, B, ENCORE))
    changed = [pair for pair in zip(TEXT.splitlines(), text.splitlines(), strict=True) if pair[0] != pair[1]]
    assert len(changed) == 1
    assert 'key  = "F"' in changed[0][1]
    assert "# for Ines" in changed[0][1]


def test_the_second_entry_of_a_file_is_its_own() -> None:
    text = changed_text(TEXT, BEFORE, (A, GONE, B, replace(ENCORE, tempo=120.0)))
    assert text.index("tempo = 120") > text.index("encore")


def test_a_song_that_did_not_open_stays_where_it_stands() -> None:
    text = changed_text(TEXT, BEFORE, (B, GONE, A, ENCORE))
    assert songs(text) == ["b.toml", "gone.toml", "a.toml", "a.toml"]


def test_a_dropped_song_takes_its_lines_along() -> None:
    text = changed_text(TEXT, BEFORE, (A, GONE, ENCORE))
    assert songs(text) == ["a.toml", "gone.toml", "a.toml"]
    assert "# upstairs" in text


def test_a_song_that_did_not_open_moves_up_when_the_one_before_it_goes() -> None:
    assert songs(changed_text(TEXT, BEFORE, (GONE, A, ENCORE)))[0] == "gone.toml"


def test_an_added_song_comes_with_tonights_values() -> None:
    new = Entry("c.toml", 0, "G", 77.0, "softly", ())
    text = changed_text(TEXT, BEFORE, (A, GONE, B, ENCORE, new))
    assert songs(text)[-1] == "c.toml"
    assert 'note = "softly"' in text


def test_an_added_song_is_a_line_where_it_is_played_as_its_own_file_has_it() -> None:
    new = Entry("c.toml", 0, "G", 77.0, "softly", (), own=("G", 77.0, "softly"))
    assert changed_text(TEXT, BEFORE, (A, GONE, B, ENCORE, new)).endswith('[[songs]]\nfile = "c.toml"\n')
    other = replace(new, key="A", own=("G", 77.0, "softly"))
    assert changed_text(TEXT, BEFORE, (A, GONE, B, ENCORE, other)).endswith('file = "c.toml"\nkey = "A"\n')


def test_a_pin_is_written_for_its_song_and_taken_out_again() -> None:
    pinned = replace(B, pins=(Pin("Verse", 3, Fraction(1), (41, 48), (56, 63)),))
    text = changed_text(TEXT, BEFORE, (A, GONE, pinned, ENCORE))
    assert "[[songs.pins]]" in text
    text = changed_text(text, (A, GONE, pinned, ENCORE), BEFORE)
    assert "pins" not in text


@pytest.mark.parametrize(
    "order",
    [
        (ENCORE, GONE, B, A),
        (B, ENCORE, GONE, A),
        (GONE, A, ENCORE, B),
    ],
)
def test_any_order_can_be_written(order: Slots) -> None:
    text = changed_text(TEXT, BEFORE, order)
    assert songs(text) == [entry.file if entry else "gone.toml" for entry in order]


def test_a_song_that_did_not_open_can_be_dropped() -> None:
    assert "gone.toml" not in songs(changed_text(TEXT, BEFORE, (A, B, ENCORE)))


def test_of_two_entries_of_a_file_the_one_that_stays_keeps_its_own_lines() -> None:
    text = TEXT.replace("# again, as an encore", "# again\nmidi = { program = 4 }")
    first, encore = replace(A, rest=("piano",)), replace(ENCORE, rest=("organ",))
    alone = changed_text(text, (first, GONE, B, encore), (replace(encore, nth=0), GONE, B))
    assert songs(alone) == ["a.toml", "gone.toml", "b.toml"]
    assert "program = 4" in alone
    assert "for Ines" not in alone


def test_two_entries_of_a_file_change_places_with_their_lines() -> None:
    text = TEXT.replace("# again, as an encore", "# again\nmidi = { program = 4 }")
    first, encore = replace(A, rest=("piano",)), replace(ENCORE, rest=("organ",))
    after = (replace(encore, nth=0), GONE, B, replace(first, nth=1))
    swapped = changed_text(text, (first, GONE, B, encore), after)
    assert swapped.index("program = 4") < swapped.index("gone.toml") < swapped.index("for Ines")


def test_a_song_that_opens_by_now_keeps_its_lines() -> None:
    mended = Entry("gone.toml", 0, "C", 100.0, "", ())
    assert changed_text(TEXT, BEFORE, (A, mended, B, ENCORE)) == TEXT
    assert changed_text(TEXT, (A, mended, B, ENCORE), BEFORE) == TEXT


def test_a_voicing_for_tonight_is_one_line_of_its_song() -> None:
    b = replace(B, manner=("auto", "auto", "both", "piano", "off", "", "theirs"))
    text = changed_text(TEXT, (A, GONE, b, ENCORE), (A, GONE, replace(b, manner=("shell", *b.manner[1:])), ENCORE))
    assert text == TEXT.replace('file = "b.toml"\n', 'file = "b.toml"\nvoicing = {method = "shell"}\n')


def test_a_voicing_in_one_word_keeps_its_method_beside_another_sound() -> None:
    before = TEXT.replace('file = "b.toml"\n', 'file = "b.toml"\nvoicing = "shell"  # thin\n')
    b = replace(B, manner=("shell", "auto", "both", "piano", "off", "", "theirs"))
    text = changed_text(
        before, (A, GONE, b, ENCORE), (A, GONE, replace(b, manner=(*b.manner[:3], "pad", *b.manner[4:])), ENCORE)
    )
    assert 'voicing = {method = "shell", sound = "pad"}' in text


def test_an_added_song_says_of_its_playing_only_what_its_own_file_does_not() -> None:
    own = ("auto", "full", "both", "pad", "off", "bossa", "theirs")
    new = Entry(
        "c.toml", 0, "G", 77.0, "", (), ("auto", "full", "both", "pad", "off", "held", "theirs"), own_manner=own
    )
    text = changed_text(TEXT, BEFORE, (A, GONE, B, ENCORE, new))
    assert text.endswith('file = "c.toml"\nkey = "G"\ntempo = 77\ncomp = "held"\n')
