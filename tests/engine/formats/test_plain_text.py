from dataclasses import replace

import pytest

from engine.formats.plain_text import NEW_PAGE, WIDTH, bundle_text, cue_text, set_text
from engine.formats.sheets.bundle import sheets
from engine.formats.sheets.cue_sheet import Sheet
from engine.planning.planner import plan
from engine.song.model import SetList
from engine.song.reader import read_song
from engine.song.unfolding import unfold
from tests.engine.formats.two_lamps import TEXT


@pytest.fixture(scope="module")
def sheet() -> Sheet:
    song = read_song(TEXT, "")
    return Sheet(song, plan(unfold(song)))


def test_the_chart_is_written_as_a_song_file_writes_it(sheet):
    text = cue_text(sheet)
    assert "||: Ebmaj7" in text
    assert "Gm7 / / C7(push)" in text
    assert "x3 Eb6(hold) ||" in text


def test_every_bar_can_be_read_back(sheet):
    lines = [line for line in cue_text(sheet).splitlines() if line.startswith("  |")]
    sections = [lines[:1], lines[1:-1], lines[-1:]]
    again = TEXT.split("[sections")[0] + "".join(
        f'[sections.{name}]\nbars = """\n{chr(10).join(part)}\n"""\n'
        for name, part in zip(("Intro", "Verse", "Tag"), sections, strict=True)
    )
    symbols = [[step.symbol for step in unfold(song)] for song in (sheet.song, read_song(again, ""))]
    assert symbols[0] == symbols[1]


def test_a_hard_shift_says_what_each_hand_does(sheet):
    said = cue_text(sheet).partition("Hardest shifts")[2]
    assert "C7 > F#m7b5  Verse, bar 5" in said
    assert "5 slides down a half step onto G4" in said


def test_no_line_is_wider_than_eighty_columns(sheet):
    text = bundle_text(SetList("Evening" * 20, place="somewhere " * 20), (sheet, sheet))
    assert max(len(line) for line in text.replace(NEW_PAGE, "\n").splitlines()) <= WIDTH


def test_every_song_begins_a_page(sheet):
    text = bundle_text(SetList("Evening"), (sheet, sheet))
    assert [page.split()[0] for page in text.split(NEW_PAGE)] == ["EVENING", "TWO", "TWO"]


def test_the_set_list_numbers_the_songs_with_key_and_tempo(sheet):
    assert "  1  Two Lamps" in set_text(SetList("Evening"), [sheet.song])
    assert "Eb     112" in set_text(SetList("Evening"), [sheet.song])


def test_a_horn_is_named_beside_the_key(sheet):
    (written,) = sheets(SetList("Evening"), [(sheet.song, sheet.plan)], "Eb")
    assert "key C (written for Eb)" in cue_text(written)


def test_a_left_hands_pattern_is_named_for_the_player_and_not_for_a_horn(sheet):
    song = replace(sheet.song, left_hand="stride")
    assert "left hand: stride" in cue_text(replace(sheet, song=song))
    assert "left hand" not in cue_text(*sheets(SetList("Evening"), [(song, sheet.plan)], "Bb"))
