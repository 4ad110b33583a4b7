"""Sets: tonight's wishes over the songs' own, and songs that do not open."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.errors import ChartError
from engine.song.model import SetList
from engine.song.reader import read_song
from engine.song.set_list import read_set
from tests.engine.song.songs import LANTERN, short

FILES = {"lantern.toml": LANTERN, "pier.toml": short("| C | F |"), "faulty.toml": short("| C Q F |")}


def load(file: str) -> str:
    try:
        return FILES[file]
    except KeyError:
        raise FileNotFoundError(2, "there is no such file") from None


def opened(songs: str, head: str = 'title = "Harbour Room"\n') -> SetList:
    return read_set(head + songs, "harbour.toml", load)


def faults(songs: str, head: str = 'title = "Harbour Room"\n') -> list[str]:
    with pytest.raises(ChartError) as caught:
        opened(songs, head)
    return [str(fault) for fault in caught.value.faults]


ONE = '[[songs]]\nfile = "lantern.toml"\n'


def test_the_evening_and_its_line_up_are_read() -> None:
    head = """
title = "Harbour"
date = 2026-12-04
place = "upstairs"
bass = true
guitar = true
horns = ["Bb", "Eb"]
reach = [200, 190.5]
"""
    evening = opened(ONE, head)
    assert (evening.title, evening.date, evening.place) == ("Harbour", "2026-12-04", "upstairs")
    assert (evening.bass, evening.guitar, evening.horns, evening.reach) == (True, True, ("Bb", "Eb"), (200.0, 190.5))


def test_songs_come_in_order_with_their_numbers() -> None:
    evening = opened(ONE + '[[songs]]\nfile = "pier.toml"\n')
    assert [(place.number, place.song.title) for place in evening.songs] == [(1, "Low Tide Lantern"), (2, "Pier")]


def test_tonights_wishes_go_over_the_songs_own() -> None:
    (place,) = opened(ONE + 'tempo = 88\nnote = "brushes"\nvoicing = { method = "close" }\n').songs
    song = place.song
    assert (song.tempo, song.note, song.method, song.sound) == (88.0, "brushes", "close", "pad")


def test_a_note_keeps_its_lines_and_nothing_else_that_cannot_be_shown() -> None:
    (place,) = opened(ONE + 'note = "brushes\\nVerse bar 2: softly\\u001b"\n').songs
    assert place.song.note == "brushes\nVerse bar 2: softly "
    assert place.song.note_line == "brushes; Verse bar 2: softly"


def test_tonights_key_moves_the_chords() -> None:
    (place,) = opened(ONE + 'key = "F"\n').songs
    assert place.song.key == "F"
    assert place.song.sections[1].bars[0].events[0].symbol == "Fmaj7"


def test_tonights_voicing_may_be_one_word() -> None:
    assert opened(ONE + 'voicing = "spread"\n').songs[0].song.method == "spread"


def test_tonights_pin_replaces_the_songs_own_at_the_same_place() -> None:
    pin = '[[songs.pins]]\nsection = "Verse"\nbar = 3\nright = "C4 Eb4"\n'
    (place,) = opened(ONE + pin).songs
    assert [pin.right for pin in place.song.pins] == [(60, 63)]


def test_tonights_pin_elsewhere_joins_the_songs_own() -> None:
    pin = '[[songs.pins]]\nsection = "Tag"\nbar = 1\nright = "C4 Eb4"\n'
    assert len(opened(ONE + pin).songs[0].song.pins) == 2


def test_a_song_that_is_gone_is_kept_apart_and_the_rest_works() -> None:
    evening = opened('[[songs]]\nfile = "gone.toml"\n' + ONE)
    assert evening.missing == (("gone.toml", "there is no such file"),)
    assert [(place.number, place.song.title) for place in evening.songs] == [(2, "Low Tide Lantern")]


def test_a_song_with_faults_is_kept_apart_with_all_of_them() -> None:
    evening = opened('[[songs]]\nfile = "faulty.toml"\n' + ONE)
    ((file, why),) = evening.missing
    assert file == "faulty.toml"
    assert why.startswith("faulty.toml:5:")
    assert len(evening.songs) == 1


@pytest.mark.parametrize(
    ("songs", "words"),
    [
        ("", "no songs"),
        ("songs = 3\n", "songs is 3"),
        ("[[songs]]\n", "no file"),
        (ONE + 'key = "Q"\n', "no key"),
        (ONE + "tempo = 0\n", "tempo is 0"),
        (ONE + 'voicing = "shel"\n', "did you mean shell?"),
        (ONE + '[[songs.pins]]\nsection = "Verse"\nright = "X4"\n', "X4 is no note"),
    ],
)
def test_a_mistake_of_the_set_is_said(songs: str, words: str) -> None:
    assert words in "\n".join(faults(songs))


@pytest.mark.parametrize(
    ("head", "words"),
    [
        ("", "no title"),
        ('title = "a"\nhorns = ["Q"]\n', "no horn's key"),
        ('title = "a"\nhorns = "Bb"\n', "not a list"),
        ('title = "a"\nbass = "yes"\n', "true or false"),
        ('title = "a"\nreach = "wide"\n', "no reach"),
        ('title = "a"\nreach = [1, 2, 3]\n', "no reach"),
        ('title = "a"\nreach = true\n', "no reach"),
    ],
)
def test_a_mistake_in_the_sets_head_is_said(head: str, words: str) -> None:
    assert words in "\n".join(faults(ONE, head))


def test_an_unknown_key_of_a_set_is_noted() -> None:
    ((_, _, key, remark),) = opened(ONE, 'title = "a"\nplase = "b"\n').doubts
    assert (key, "did you mean place?" in remark) == ("plase", True)


def test_a_reach_in_words_is_read_by_whoever_knows_hands() -> None:
    evening = read_set('title = "a"\nreach = "a ninth"\n' + ONE, "", load, lambda words: 200.0)
    assert evening.reach == (200.0, 200.0)


def test_a_pin_that_the_song_has_outgrown_is_left_out_and_noted() -> None:
    evening = opened(ONE + '[[songs.pins]]\nsection = "Vers"\nright = "C4"\n')
    assert len(evening.songs[0].song.pins) == 1
    ((line, _, what, remark),) = evening.doubts
    assert (line, what) == (5, "pin")
    assert "did you mean Verse?" in remark


SET = """title = "Harbour"
date = "Friday"
bass = true
horns = ["Bb"]
reach = [200, 190.5]

[[songs]]
file = "lantern.toml"
key = "F"
tempo = 88
voicing = { method = "close" }

[[songs.pins]]
section = "Verse"
bar = 3
right = "C4 Eb4"

[[songs]]
file = "pier.toml"
"""


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.tuples(st.floats(0, 1), st.integers(0, 12), st.text("[]{}()=\"'x31.,\n#é-", max_size=3)),
        min_size=1,
        max_size=5,
    )
)
def test_a_set_with_slips_of_the_pen_opens_or_its_faults_lie_inside_it(slips: list[tuple[float, int, str]]) -> None:
    text = SET
    for place, lost, typed in slips:
        start = int(place * len(text))
        text = text[:start] + typed + text[start + lost :]
    try:
        read_set(text, "", load)
    except ChartError as error:
        assert all(1 <= fault.line <= text.count("\n") + 2 for fault in error.faults)  # noqa: PT017


PINNED = short("| C | F |") + '[[pins]]\nsection = "A"\nbar = 2\nright = "F4 A4 C5"\n'


def test_a_songs_own_pin_may_be_off_tonight(monkeypatch: pytest.MonkeyPatch) -> None:
    section = read_song(PINNED.partition("[[pins]]")[0], "").sections[0].name
    monkeypatch.setitem(FILES, "pinned.toml", PINNED.replace('"A"', f'"{section}"'))
    entry = '[[songs]]\nfile = "pinned.toml"\n'
    (place,) = opened(entry).songs
    assert [pin.bar for pin in place.song.pins] == [2]
    (place,) = opened(f'{entry}pins = [{{ section = "{section}", bar = 2, free = true }}]\n').songs
    assert place.song.pins == ()
    assert [bar for _, bar, _ in place.own_pins] == [2]
