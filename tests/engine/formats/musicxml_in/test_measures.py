"""Measures of a part. Source: MusicXML 4.0 (W3C)."""

from fractions import Fraction
from xml.etree.ElementTree import fromstring

import pytest

from engine.formats.import_result import NotImported
from engine.formats.musicxml_in.measure import Measure
from engine.formats.musicxml_in.measures import MOST_MEASURES, read_part
from tests.engine.formats.scores import attributes, bar_line, harmony, measure, note


def part(*measures: str) -> tuple[list[Measure], str]:
    found, doubts = read_part(fromstring(f"<part>{''.join(measures)}</part>"))
    return found, "\n".join(doubts)


def transposing(chromatic: int, diatonic: str = "", octaves: int = 0) -> str:
    steps = f"<diatonic>{diatonic}</diatonic>" if diatonic else ""
    octave = f"<octave-change>{octaves}</octave-change>" if octaves else ""
    return attributes(more=f"<transpose>{steps}<chromatic>{chromatic}</chromatic>{octave}</transpose>")


@pytest.mark.parametrize(
    ("move", "key", "melody"),
    [
        (transposing(-2, "-1"), "Bb", 58),
        (transposing(-9, "-5"), "Eb", 51),
        (transposing(-7, "-4"), "F", 53),
        # Without its letters an interval is the plainest one.
        (transposing(-2), "Bb", 58),
        (transposing(3), "Eb", 63),
        (transposing(-2, "-1", -1), "Bb", 46),
    ],
)
def test_a_transposing_instrument_sounds_in_its_own_key(move, key, melody):
    # Common practice: written C sounds Bb on a trumpet, Eb on an alto saxophone, F on a horn.
    (found,), _ = part(measure("C", before=move))
    assert (str(found.key), found.chords, found.notes) == (key, [(Fraction(0), key)], [melody])


def test_an_unknown_key_is_a_doubt_and_the_one_before_is_kept():
    found, doubts = part(measure("C", before=attributes(2)), measure("C", before=attributes(9)))
    assert str(found[1].key) == "D"
    assert "9 fifths" in doubts


@pytest.mark.parametrize(
    ("time", "meter", "words"),
    [
        ("<beats>3+2</beats><beat-type>8</beat-type>", "5/8", ""),
        ("<beats>3</beats><beat-type>4</beat-type><beats>2</beats><beat-type>4</beat-type>", "3/4", "only the first"),
        ("<senza-misura/>", "4/4", "4/4 was kept"),
        ("<beats>x</beats><beat-type>4</beat-type>", "4/4", "4/4 was kept"),
    ],
)
def test_odd_meters_are_added_up_or_doubted(time, meter, words):
    (found,), doubts = part(measure("C", before=f"<attributes><time>{time}</time></attributes>"))
    assert str(found.meter) == meter
    assert words in doubts


def test_grace_and_cue_notes_take_no_time_and_are_not_sung():
    small = "".join(note(0, "C8").replace("<pitch>", f"<{kind}/><pitch>") for kind in ("grace", "cue"))
    (found,), _ = part(measure("C", before=small))
    assert (found.length, found.notes) == (4, [60])


def test_notes_of_one_chord_sound_together():
    (found,), _ = part(measure("C", after=note(4, "E4").replace("<note>", "<note><chord/>")))
    assert (found.length, found.notes) == (4, [60, 64])


def test_two_voices_go_back_and_forth_without_making_the_bar_longer():
    more = "<backup><duration>4</duration></backup><forward><duration>2</duration></forward>" + harmony("G") + note(2)
    (found,), _ = part(measure("C", after=more))
    assert (found.length, found.chords) == (4, [(0, "C"), (2, "G")])


def test_of_two_chords_that_an_offset_puts_in_one_place_the_last_is_kept_with_a_doubt():
    placed = harmony("F", more="<offset>0</offset>"), harmony("C", more="<offset>0</offset>")
    (found,), doubts = part(measure(before="".join(placed)))
    assert found.chords == [(0, "C")]
    assert "at once, C was kept" in doubts


@pytest.mark.parametrize("count", [2, 3, 4])
def test_chords_over_one_note_share_it_evenly(count):
    written = "".join(harmony(root) for root in "CFGA"[:count])
    (found,), doubts = part(measure(before=written))
    assert found.chords == [(Fraction(4 * turn, count), "CFGA"[turn]) for turn in range(count)]
    assert not doubts


def test_an_offset_places_a_chord_within_a_note():
    written = harmony("C") + harmony("F", more="<offset>3</offset>")
    (found,), _ = part(measure(before=written))
    assert found.chords == [(0, "C"), (3, "F")]


def test_a_chord_written_twice_over_one_note_is_struck_twice():
    (found,), _ = part(measure(before=harmony("C") + harmony("C")))
    assert found.chords == [(0, "C"), (2, "C")]


def test_an_offset_moves_a_chord_off_its_note():
    late = harmony("G", more="<offset>2</offset>")
    (found,), _ = part(measure("C", before=late))
    assert found.chords == [(0, "C"), (2, "G")]


@pytest.mark.parametrize(("times", "found"), [("", 2), ("3", 3), ("1", 2), ("500", 99), ("many", 2)])
def test_a_repeat_is_played_twice_unless_it_says_how_often(times, found):
    (one,), _ = part(measure("C", after=bar_line("backward", times=times)))
    assert one.backward == found


def test_signs_on_a_bar_line_count_as_signs():
    line = '<barline location="left" segno="s1"><segno/><coda/></barline>'
    (found,), _ = part(measure("C", before=line))
    assert (found.segno, found.coda) == ("s1", "coda")


def test_a_part_with_more_measures_than_a_song_is_refused():
    with pytest.raises(NotImported, match="measures"):
        part(*["<measure/>"] * (MOST_MEASURES + 1))
