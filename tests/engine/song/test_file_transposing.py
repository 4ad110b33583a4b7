"""Song files put into another key for good."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.errors import ChartError
from engine.song.file_transposing import in_key
from engine.song.reader import read_song
from engine.song.transposing import transpose
from engine.song.writing import write_song

SONGS = sorted((Path(__file__).parents[3] / "setlists" / "songs").glob("*.toml"))
KEYS = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B")
LANTERN = '''\
title  = "Lantern"   # ours
key    = "Eb"        # the singer's
tempo  = 92

[melody]
lowest = "G3"
highest = "c5"

[sections.Verse]
cue  = "Eb is the key"
bars = """
| Ebmaj7   | Cm7  F7(push) |   (3/4) Fm7 / / | N.C. %
"""

[sections.Out]   # up a tone
key  = "F"
bars = "| F/A | Bb(1 beats) C(3 beats) |"

[[pins]]
section = "Verse"
bar     = 1
left    = "Eb2, Bb2"   # mine
right   = "G3 d4"
'''


def test_only_keys_chords_and_notes_change():
    assert in_key(LANTERN.replace("| N.C. %", "| N.C. | % |"), "F") == (
        LANTERN.replace("| N.C. %", "| N.C. | % |")
        .replace('key    = "Eb"', 'key    = "F"')
        .replace('lowest = "G3"\nhighest = "c5"', 'lowest = "A3"\nhighest = "D5"')
        .replace("| Ebmaj7   | Cm7  F7(push) |   (3/4) Fm7", "| Fmaj7   | Dm7  G7(push) |   (3/4) Gm7")
        .replace('key  = "F"', 'key  = "G"')
        .replace("| F/A | Bb(1 beats) C(3 beats) |", "| G/B | C(1 beats) D(3 beats) |")
        .replace('"Eb2, Bb2"', '"F2, C3"')
        .replace('"G3 d4"', '"A3 E4"')
    )


@pytest.mark.parametrize("song", SONGS, ids=lambda path: path.stem)
@pytest.mark.parametrize("key", KEYS)
def test_the_new_file_says_the_transposed_song(song, key):
    text = song.read_text(encoding="utf-8")
    assert write_song(read_song(in_key(text, key), "")) == write_song(transpose(read_song(text, ""), key))


@settings(max_examples=30, deadline=None)
@given(song=st.sampled_from(SONGS), way=st.lists(st.sampled_from(KEYS), max_size=4))
def test_any_way_through_the_keys_leads_home_with_the_same_chords(song, way):
    text = song.read_text(encoding="utf-8")
    old = read_song(text, "")
    for key in (*way, old.key):
        text = in_key(text, key)
    home = read_song(text, "")
    degrees = [[event.chord and event.chord.degrees for bar in part.bars for event in bar.events]
               for found in (old, home) for part in found.sections]  # fmt: skip
    assert degrees[: len(old.sections)] == degrees[len(old.sections) :]
    assert home.key == old.key


def test_the_same_key_is_the_same_file():
    text = SONGS[0].read_text(encoding="utf-8")
    assert in_key(text, read_song(text, "").key) == text


@pytest.mark.parametrize(
    ("names", "key", "before", "after"),
    [
        ("german", "A", "| Hm7 E7 | B H/Dis |", "| Cm7 F7 | Ces C/E |"),
        ("german", "C", "| C | As7 Es |", "| D | B7 F |"),
        ("solfege", "C", "| Dom7 Solb | Sib/Re |", "| Rem7 Lab | Do/Mi |"),
    ],
)
def test_names_stay_in_their_language(names, key, before, after):
    text = f'title = "X"\nkey = "{key}"\nnames = "{names}"\n[sections.A]\nbars = "{before}"\n'
    up = {"A": "Bb", "C": "D"}[key]
    assert in_key(text, up) == text.replace(f'"{key}"', f'"{up}"').replace(before, after)


def test_numbers_stay_and_their_key_moves():
    text = 'title = "X"\nkey = "C"\nnumbers = true\n[sections.A]\nbars = "| 1 6- | 2-7 5/7 |"\n'
    assert in_key(text, "Ab") == text.replace('"C"', '"Ab"')


def test_line_ends_and_a_mark_at_the_start_stay():
    text = '\ufefftitle = "X"\r\nkey = "C"\r\n[sections.A]\r\nbars = "| C | G |"\r\n'
    assert in_key(text, "D") == text.replace('"C"', '"D"').replace("| C | G |", "| D | A |")


def test_lower_case_roots_that_mean_minor_stay_lower():
    text = 'title = "X"\nkey = "C"\n[reading]\nlower_minor = true\n[sections.A]\nbars = "| c | F |"\n'
    assert '"| d | G |"' in in_key(text, "D")


def test_a_pin_that_would_fall_off_the_keyboard_is_said():
    text = 'title = "X"\nkey = "C"\n[sections.A]\nbars = "| C |"\n[[pins]]\nsection = "A"\nright = "C8"\n'
    with pytest.raises(ChartError, match="keyboard"):
        in_key(text, "D")
