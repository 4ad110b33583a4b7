"""Bars put in, taken out and copied: nothing else of the song changes."""

from pathlib import Path

import pytest

from engine.errors import ChartError
from engine.song.bar_edits import copied_bars, delete_bars, insert_bars
from engine.song.model import Section
from engine.song.reader import read_song
from engine.song.writing import write_song

SONGS = sorted((Path(__file__).parents[3] / "setlists" / "songs").glob("*.toml"))
HEAD = 'title = "Two Piers"  # ours\nkey = "C"\n'


def song(bars: str, more: str = "", after: str = "") -> str:
    return f'{HEAD}[sections.Verse]\n{more}bars = """\n{bars}\n"""\n{after}'


def bars_of(text: str, section: str = "Verse") -> list[list[str]]:
    found = next(part for part in read_song(text, "").sections if part.name == section)
    return [[event.symbol for event in bar.events] for bar in found.bars]


def bars_text(text: str) -> str:
    return text.split('"""')[1].strip()


@pytest.mark.parametrize("path", SONGS, ids=lambda path: path.stem)
def test_a_bar_put_in_anywhere_and_taken_out_again_leaves_the_same_song(path: Path):
    text = path.read_text(encoding="utf-8")
    for section in read_song(text, "").sections:
        for after in places(section):
            longer = insert_bars(text, section.name, after, "N.C. | N.C.")
            assert len(bars_of(longer, section.name)) == len(section.bars) + 2
            back = read_song(delete_bars(longer, section.name, after + 1, after + 2), "")
            assert write_song(back) == write_song(read_song(text, ""))


def places(section: Section) -> range:
    return range(0, len(section.bars) + (0 if section.pickup else 1))


def test_a_bar_put_in_stands_after_the_bar_it_was_asked_for():
    assert bars_text(insert_bars(song("| C | F | G ||"), "Verse", 1, "Am | Dm")) == "| C | Am | Dm | F | G ||"
    assert bars_text(insert_bars(song("| C | F | G ||"), "Verse", 0, "| Am |")) == "| Am | C | F | G ||"
    assert bars_text(insert_bars(song("||: C | F :|| G ||"), "Verse", 2, "Am")) == "||: C | F | Am :|| G ||"


def test_a_bar_that_repeats_the_one_before_keeps_its_chords_when_another_comes_between():
    assert bars_of(insert_bars(song("| C Am | % | / / F / |"), "Verse", 1, "Dm")) == [
        ["C", "Am"],
        ["Dm"],
        ["C", "Am"],
        ["Am", "F"],
    ]
    assert bars_of(delete_bars(song("| C Am | % | / / F / |"), "Verse", 1, 1)) == [["C", "Am"], ["Am", "F"]]


def test_a_bar_is_taken_out_with_one_of_its_bar_lines():
    assert bars_text(delete_bars(song("| C | F | G ||"), "Verse", 2, 2)) == "| C | G ||"
    assert bars_text(delete_bars(song("| C | F | G ||"), "Verse", 3, 3)) == "| C | F ||"
    assert bars_text(delete_bars(song("||: C | F :|| G ||"), "Verse", 2, 2)) == "||: C :|| G ||"
    assert bars_text(delete_bars(song("| C | F |\n| G | Am |\n| D |"), "Verse", 5, 5)) == "| C | F |\n| G | Am |"


def test_a_whole_repeat_goes_with_its_signs():
    assert bars_of(delete_bars(song("||: C | F :|| x3 | G | Am ||"), "Verse", 1, 2)) == [["G"], ["Am"]]
    assert bars_of(delete_bars(song("| G | Am ||: C [1. F :|| [2. D ||"), "Verse", 3, 5)) == [["G"], ["Am"]]


def test_the_only_bar_of_an_ending_is_not_taken_out():
    with pytest.raises(ChartError, match="edit it as text"):
        delete_bars(song("||: C [1. F :|| [2. D ||"), "Verse", 2, 2)


def test_a_section_keeps_a_bar():
    with pytest.raises(ChartError, match="drop the section"):
        delete_bars(song("| C | F |"), "Verse", 1, 2)


def test_a_chord_that_is_none_is_not_put_in():
    with pytest.raises(ChartError, match="Hxyz"):
        insert_bars(song("| C | F |"), "Verse", 1, "Hxyz")


def test_pins_and_notes_for_bars_go_with_their_bars():
    pin = '[[pins]]\nsection = "Verse"\nbar = 2   # the wide one\nleft = "F2"\n'
    text = HEAD + 'note = "Verse bar 2: watch"\n' + song("| C | F | G |", after=pin).removeprefix(HEAD)
    longer = insert_bars(text, "Verse", 1, "Am | Dm")
    read = read_song(longer, "")
    assert (read.pins[0].bar, read.note) == (4, "Verse bar 4: watch")
    assert "# the wide one" in longer
    assert "# ours" in longer
    gone = read_song(delete_bars(longer, "Verse", 4, 4), "")
    assert (gone.pins, gone.note) == ((), "")


def test_the_tune_stays_in_its_bars():
    text = song("| C | F | G |", after='tune = "C8 | F8 | G8 |"\n')
    longer = read_song(insert_bars(text, "Verse", 1, "Am"), "").sections[0]
    assert [(note.onset, note.note) for note in longer.tune] == [(0, 60), (8, 65), (12, 67)]
    shorter = read_song(delete_bars(text, "Verse", 2, 2), "").sections[0]
    assert [(note.onset, note.note) for note in shorter.tune] == [(0, 60), (4, 67)]


def test_bars_are_copied_with_what_they_stand_for():
    text = song("| C Am | % | / / F / | (3/4) G |")
    assert copied_bars(text, "Verse", 2, 4) == "C Am | Am / F / | (3/4) G"


def test_line_ends_and_the_mark_at_the_beginning_stay():
    text = "\ufeff" + song("| C | F |").replace("\n", "\r\n")
    changed = insert_bars(text, "Verse", 1, "G")
    assert changed.startswith("\ufeff")
    assert changed.count("\n") == changed.count("\r\n") == text.count("\n")
