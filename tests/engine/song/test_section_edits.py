"""Sections added, renamed, copied, split and dropped: what is played, pinned and noted follows."""

import contextlib
from pathlib import Path

import pytest

from engine.errors import ChartError
from engine.song.model import Section, Step
from engine.song.reader import read_song
from engine.song.section_edits import add_section, copy_section, drop_section, rename_section, split_section
from engine.song.unfolding import unfold
from engine.song.writing import write_song

SONGS = sorted((Path(__file__).parents[3] / "setlists" / "songs").glob("*.toml"))
SONG = """\
title = "Two Piers"
key = "C"
note = "Verse bar 3: watch"
roadmap = "Verse x2, Bridge, Verse"   # as on Tuesday

# quietly
[sections.Verse]
cue = "drums out"
bars = "| C | F | G | C ||"   # four

[sections.Bridge]
bars = "| Am | Dm |"

[[pins]]
section = "Verse"
bar = 3
left = "G2"
"""


def played(text: str) -> list[tuple[object, ...]]:
    return [heard(step) for step in unfold(read_song(text, ""))]


def heard(step: Step) -> tuple[object, ...]:
    return step.symbol, step.beats, step.mark, step.key, step.meter, step.pace


@pytest.mark.parametrize("path", SONGS, ids=lambda path: path.stem)
def test_a_section_split_anywhere_is_played_as_before(path: Path):
    text = path.read_text(encoding="utf-8")
    halves = [half for section in read_song(text, "").sections for half in parted(text, section)]
    assert halves or path.stem == "round-the-circle", "its one section is one repeat"
    assert all(played(half) == played(text) for half in halves)


def parted(text: str, section: Section) -> list[str]:
    """Return the song split before every bar of a section where that can be."""
    halves = []
    for bar in range(1 if section.pickup else 2, len(section.bars) + (0 if section.pickup else 1)):
        with contextlib.suppress(ChartError):
            halves.append(split_section(text, section.name, bar, "Second Half"))
    return halves


@pytest.mark.parametrize("path", SONGS, ids=lambda path: path.stem)
def test_a_section_copied_and_dropped_again_leaves_the_same_song(path: Path):
    text = path.read_text(encoding="utf-8")
    for section in read_song(text, "").sections:
        back = drop_section(copy_section(text, section.name, "Once More"), "Once More")
        assert write_song(read_song(back, "")) == write_song(read_song(text, ""))


@pytest.mark.parametrize("path", SONGS, ids=lambda path: path.stem)
def test_a_section_renamed_and_named_back_leaves_the_same_text(path: Path):
    text = path.read_text(encoding="utf-8")
    for section in read_song(text, "").sections:
        renamed = rename_section(text, section.name, "Once More")
        assert played(renamed) == played(text)
        back = rename_section(renamed, "Once More", section.name)
        assert write_song(read_song(back, "")) == write_song(read_song(text, ""))


def test_a_renamed_section_is_another_name_in_roadmap_pins_and_note():
    text = rename_section(SONG, "Verse", "Quay 1")
    song = read_song(text, "")
    assert song.roadmap == ("Quay 1", "Quay 1", "Bridge", "Quay 1")
    assert (song.pins[0].section, song.note) == ("Quay 1", "Quay 1 bar 3: watch")
    assert 'roadmap = "Quay 1 x2, Bridge, Quay 1"   # as on Tuesday' in text
    assert '# quietly\n[sections."Quay 1"]\ncue = "drums out"' in text


def test_the_second_half_is_played_after_every_first_one_and_has_its_pins():
    song = read_song(split_section(SONG, "Verse", 3, "Answer"), "")
    assert song.roadmap == ("Verse", "Answer") * 2 + ("Bridge", "Verse", "Answer")
    assert [section.name for section in song.sections] == ["Verse", "Answer", "Bridge"]
    assert (song.pins[0].section, song.pins[0].bar, song.note) == ("Answer", 1, "Answer bar 1: watch")
    assert (song.sections[0].cue, song.sections[1].cue) == ("drums out", "")


def test_a_pickup_stays_with_the_first_half():
    text = SONG.replace('cue = "drums out"\n', "pickup = 2\n").replace("bar = 3", "bar = 2")
    song = read_song(split_section(text, "Verse", 2, "Answer"), "")
    assert [(part.pickup, len(part.bars)) for part in song.sections[:2]] == [(2, 2), (0, 2)]
    assert song.pins[0].place[:2] == ("Answer", 1)


def test_a_section_is_not_split_inside_a_repeat():
    text = SONG.replace("| C | F | G | C ||", "||: C | F | G :|| C ||")
    with pytest.raises(ChartError, match=r"repeat"):
        split_section(text, "Verse", 2, "Answer")


def test_a_section_with_a_tune_is_split_between_its_notes():
    text = SONG.replace("   # four", '\ntune = "C8 | F8 | G8- | G8 |"')
    parts = read_song(split_section(text, "Verse", 3, "Answer"), "").sections
    assert [[note.note for note in part.tune] for part in parts[:2]] == [[60, 65], [67]]
    with pytest.raises(ChartError, match="holds a note"):
        split_section(text, "Verse", 4, "Answer")


def test_a_copy_follows_the_last_time_its_section_is_played():
    text = copy_section(SONG, "Verse", "Verse b")
    assert read_song(text, "").roadmap == ("Verse", "Verse", "Bridge", "Verse", "Verse b")
    assert text.count("# quietly") == 2


def test_a_new_section_follows_another_one_on_the_chord_of_the_key():
    text = add_section(SONG, "Bridge", "Tag")
    song = read_song(text, "")
    assert song.roadmap == ("Verse", "Verse", "Bridge", "Tag", "Verse")
    assert [section.name for section in song.sections] == ["Verse", "Bridge", "Tag"]
    assert song.sections[2].bars[0].events[0].symbol == "C"


def test_a_dropped_section_takes_its_pins_and_notes_with_it():
    song = read_song(drop_section(SONG, "Verse"), "")
    assert (song.roadmap, song.pins, song.note) == (("Bridge",), (), "")


def test_the_last_section_is_not_dropped():
    with pytest.raises(ChartError, match="all that is played"):
        drop_section(drop_section(SONG, "Verse"), "Bridge")


@pytest.mark.parametrize("name", ["", "bridge", "a, b", "Tag x3", "two | bars"])
def test_a_name_that_cannot_be_played_is_refused(name: str):
    with pytest.raises(ChartError):
        rename_section(SONG, "Verse", name)


def test_a_roadmap_written_as_a_list_or_not_at_all_is_followed():
    listed = SONG.replace('"Verse x2, Bridge, Verse"   # as on Tuesday', '["Verse x2", "Bridge", "Verse"]')
    assert read_song(rename_section(listed, "Verse", "A"), "").roadmap == ("A", "A", "Bridge", "A")
    without = SONG.replace('roadmap = "Verse x2, Bridge, Verse"   # as on Tuesday\n', "")
    assert read_song(copy_section(without, "Verse", "A"), "").roadmap == ("Verse", "A", "Bridge")


def test_a_section_written_in_braces_is_left_to_be_edited_as_text():
    text = 'title = "T"\nkey = "C"\n[sections]\nVerse = { bars = "| C | F |" }\n'
    with pytest.raises(ChartError, match="edit it as text"):
        copy_section(text, "Verse", "A")
