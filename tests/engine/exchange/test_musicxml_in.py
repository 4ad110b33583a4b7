"""MusicXML lead sheets as songs. The meanings of signs are those of MusicXML 4.0 (W3C)."""

from fractions import Fraction

import pytest
from scores import (
    attributes,
    bar_line,
    degree,
    harmony,
    mark,
    measure,
    note,
    packed,
    score,
    sound,
    words,
)

from engine.chord.symbol import read_symbol
from engine.exchange.imported import Imported, NotImported
from engine.exchange.lead_sheet.harmony import KINDS
from engine.exchange.musicxml_in import song_from_musicxml
from engine.song.reader import read_song
from engine.song.unfolding import unfold


def played(data: bytes) -> str:
    """Return the chords as played."""
    return " ".join(step.symbol for step in unfold(song_from_musicxml(data).song))


def one(chord: str, first: str | None = None) -> str:
    return unfold(song_from_musicxml(score(measure(chord), first=first)).song)[0].symbol


def reading(data: bytes) -> Imported:
    return song_from_musicxml(data)


PUBLISHED = {
    # Kind -> degrees, as the W3C lists them for kind-value.
    "major": "1 3 5", "minor": "1 b3 5", "augmented": "1 3 #5", "diminished": "1 b3 b5", "dominant": "1 3 5 b7",
    "major-seventh": "1 3 5 7", "minor-seventh": "1 b3 5 b7", "diminished-seventh": "1 b3 b5 bb7",
    "augmented-seventh": "1 3 #5 b7", "half-diminished": "1 b3 b5 b7", "major-minor": "1 b3 5 7",
    "major-sixth": "1 3 5 6", "minor-sixth": "1 b3 5 6", "dominant-ninth": "1 3 5 b7 9", "major-ninth": "1 3 5 7 9",
    "minor-ninth": "1 b3 5 b7 9", "dominant-11th": "1 3 5 b7 9 11", "major-11th": "1 3 5 7 9 11",
    "minor-11th": "1 b3 5 b7 9 11", "minor-13th": "1 b3 5 b7 9 11 13", "suspended-second": "1 5 9",
    "suspended-fourth": "1 4 5", "power": "1 5", "pedal": "1",
    # Common practice leaves the eleventh out of major thirteenths.
    "dominant-13th": "1 3 5 b7 9 13", "major-13th": "1 3 5 7 9 13",
}  # fmt: skip


def test_there_are_33_kinds():
    assert len(KINDS) == 33


@pytest.mark.parametrize(("kind", "degrees"), PUBLISHED.items())
def test_a_kind_has_its_published_degrees(kind, degrees):
    assert set(read_symbol(one(harmony("Eb", kind))).degrees) == set(degrees.split())


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in PUBLISHED])
def test_a_kind_that_is_no_chord_of_charts_is_read_with_a_doubt_or_as_silence(kind):
    found = reading(score(measure(harmony("Ab", kind))))
    assert len(unfold(found.song)) == 1
    assert kind == "none" or any("Ab" in doubt for doubt in found.doubts)


@pytest.mark.parametrize(
    ("kind", "changes", "symbol"),
    [
        ("dominant", [(9, -1, "add")], "C7b9"),
        ("dominant", [(5, 1, "alter"), (9, 1, "add")], "C7#5#9"),
        ("dominant-ninth", [(9, -1, "alter")], "C7b9"),
        ("dominant", [(11, 1, "add")], "C7#11"),
        ("major-seventh", [(5, -1, "alter")], "Cmaj7b5"),
        ("major", [(9, 0, "add")], "Cadd9"),
        ("major", [(2, 0, "add")], "Cadd9"),
        ("major", [(7, 1, "add")], "Cmaj7"),
        ("suspended-fourth", [(7, 0, "add")], "C7sus4"),
        ("dominant", [(3, 0, "subtract"), (4, 0, "add")], "C7sus4"),
        ("major-sixth", [(9, 0, "add")], "C6/9"),
        ("dominant", [(5, 0, "subtract")], "C7(no5)"),
        ("minor-seventh", [(5, -1, "alter")], "Cm7b5"),
        ("minor-seventh", [(5, -1, "add")], "Cm7b5"),
        ("dominant", [(13, -1, "add")], "C7b13"),
        ("other", [(3, -1, "add"), (5, 0, "add"), (7, 1, "add")], "Cm(maj7)"),
    ],
)
def test_degrees_are_added_altered_and_left_out(kind, changes, symbol):
    assert one(harmony("C", kind, "".join(degree(*change) for change in changes))) == symbol


@pytest.mark.parametrize(("kind", "symbol"), [("minor-major", "Cm(maj7)"), ("Dominant", "C7"), ("tristan", "Cm7b5")])
def test_a_kind_that_programs_misspell_is_known(kind, symbol):
    assert one(harmony("C", kind)) == symbol


def test_a_kind_that_nobody_knows_is_read_by_its_text_with_a_doubt():
    found = reading(score(measure(harmony("C", "mystery", text="m7b5"))))
    assert (unfold(found.song)[0].symbol, "mystery" in found.doubts[0]) == ("Cm7b5", True)


@pytest.mark.parametrize(
    ("more", "symbol"),
    [
        ("<bass><bass-step>E</bass-step></bass>", "C7/E"),
        ("<bass><bass-step>B</bass-step><bass-alter>-1</bass-alter></bass>", "C7/Bb"),
        ("<inversion>1</inversion>", "C7/E"),
        ("<inversion>2</inversion>", "C7/G"),
        ("<inversion>3</inversion>", "C7/Bb"),
    ],
)
def test_a_bass_is_written_or_counted(more, symbol):
    assert one(harmony("C", "dominant", more)) == symbol


@pytest.mark.parametrize(
    ("chord", "symbol"),
    [
        ("<numeral><numeral-root>5</numeral-root></numeral><kind>dominant</kind>", "Bb7"),
        ("<numeral><numeral-root>2</numeral-root><numeral-alter>-1</numeral-alter></numeral><kind>major</kind>", "Fb"),
        ("<function>ii</function><kind>minor</kind>", "Fm"),
    ],
)
def test_a_numeral_is_a_chord_of_the_key(chord, symbol):
    assert one(f"<harmony>{chord}</harmony>", attributes(-3)) == symbol


def test_an_altered_dominant_is_known_by_its_text():
    assert one(harmony("G", "dominant", text="7alt")) == "G7alt"


def test_a_short_measure_after_the_first_has_a_meter_of_its_own():
    bars = reading(score(measure("C"), measure("F", quarters=2), measure("C"))).song.sections[0].bars
    assert [str(bar.meter) for bar in bars] == ["4/4", "2/4", "4/4"]


def test_chords_stand_at_their_beats_and_last_over_bar_lines():
    found = reading(score(measure("C", "F"), measure(), measure(harmony("G") + note(3) + harmony("C") + note(1))))
    assert [(step.bar, step.beat, step.symbol) for step in unfold(found.song)][:4] == [
        (1, 1, "C"), (1, 3, "F"), (2, 1, "F"), (3, 1, "G"),
    ]  # fmt: skip


def test_the_form_of_repeats_and_endings_is_kept_in_signs():
    data = score(
        measure("C"),
        measure("F", before=bar_line("forward")),
        measure("G", before=bar_line(ending="1"), after=bar_line("backward", "1", "stop")),
        measure("A", before=bar_line(ending="2"), after=bar_line("", "2", "stop")),
        measure("D"),
    )
    assert played(data) == "C F G F A D"
    assert "| C | ||: F | [1. G :|| [2. A ||" in reading(data).text


@pytest.mark.parametrize(("times", "order"), [("", "C C D"), ("3", "C C C D")])
def test_a_repeat_without_an_opening_sign_goes_back_to_the_top(times, order):
    assert played(score(measure("C", after=bar_line("backward", times=times)), measure("D"))) == order


def test_a_repeat_over_two_marked_sections_is_written_out_in_the_roadmap():
    data = score(
        measure("C", before=mark("A") + bar_line("forward")),
        measure("F", before=mark("B"), after=bar_line("backward")),
        measure("G", before=mark("C")),
    )
    assert reading(data).song.roadmap == ("A", "B", "A", "B", "C")


def test_a_mark_that_comes_again_over_the_same_bars_is_the_same_section():
    verse, chorus = mark("Verse"), mark("Chorus")
    data = score(
        measure("C", before=verse), measure("F", before=chorus), measure("C", before=verse), measure("G", before=chorus)
    )
    assert reading(data).song.roadmap == ("Verse", "Chorus", "Verse", "Chorus 2")


def test_a_chord_struck_again_in_its_bar_stays_two():
    assert played(score(measure("C", "C"))) == "C C"


def test_da_capo_al_fine_takes_no_repeats():
    data = score(
        measure("C", before=mark("A"), after=bar_line("backward")),
        measure("F", after=sound(fine="yes")),
        measure("G", before=mark("B"), after=sound(dacapo="yes")),
    )
    assert played(data) == "C C F G C F"


def test_dal_segno_al_coda_goes_by_the_sign():
    data = score(
        measure("C"),
        measure("D", before=sound(segno="1")),
        measure("E", after=sound(tocoda="1")),
        measure("F", after=sound(dalsegno="1")),
        measure("G", before=sound(coda="1")),
    )
    assert played(data) == "C D E F D E G"
    assert reading(data).song.sections[-1].name == "Coda"


def test_jumps_are_read_from_words_where_nothing_else_says_so():
    segno = "<direction><direction-type><segno/></direction-type></direction>"
    coda = segno.replace("segno", "coda")
    data = score(
        measure("C", before=segno),
        measure("E", after=words("To Coda")),
        measure("F", after=words("D.S. al Coda")),
        measure("G", before=coda),
    )
    assert played(data) == "C E F C E G"


def test_of_two_coda_signs_the_first_is_the_way_to_it():
    coda = "<direction><direction-type><coda/></direction-type></direction>"
    data = score(measure("C", after=coda), measure("F", after=words("D.C. al Coda")), measure("G", before=coda))
    assert played(data) == "C F C G"


def test_a_jump_to_nowhere_is_a_doubt_and_the_song_goes_on():
    found = reading(score(measure("C", after=words("D.S.")), measure("F")))
    assert len(unfold(found.song)) == 2
    assert any("no sign" in doubt for doubt in found.doubts)


def test_a_pickup_is_not_bar_one():
    found = reading(score(measure("G", quarters=1), measure("C"), measure("F")))
    assert found.song.sections[0].pickup == 1
    assert [(step.bar, step.beat) for step in unfold(found.song)] == [(0, 4), (1, 1), (2, 1)]


def test_a_pickup_is_repeated_when_the_last_bar_leaves_room_for_it():
    data = score(measure("G", quarters=1), measure("C"), measure("F", quarters=3, after=bar_line("backward")))
    assert played(data) == "G C F G C F"


def test_a_key_change_begins_a_section_in_its_own_key():
    found = reading(score(measure("F"), measure("G", before=attributes(1)), first=attributes(-1)))
    assert (found.song.key, [section.key for section in found.song.sections]) == ("F", ["", "G"])


@pytest.mark.parametrize(("fifths", "mode", "key"), [(-3, "minor", "Cm"), (0, "dorian", "Dm"), (0, "mixolydian", "G")])
def test_a_mode_has_its_tonic(fifths, mode, key):
    assert reading(score(measure("C"), first=attributes(fifths, mode=mode))).song.key == key


def test_a_meter_change_holds_until_the_next():
    found = reading(
        score(measure("C"), measure("F", before=attributes(0, "3/4"), quarters=3), measure("G", quarters=3))
    )
    assert [str(bar.meter) for bar in found.song.sections[0].bars] == ["4/4", "3/4", "3/4"]


@pytest.mark.parametrize(("time", "tempo"), [("4/4", 90), ("6/8", 60)])
def test_tempo_counts_quarters_and_dotted_quarters_in_compound_meters(time, tempo):
    quarters = 4 if time == "4/4" else 3
    found = reading(score(measure("C", before=sound(tempo="90"), quarters=quarters), first=attributes(0, time)))
    assert found.song.tempo == tempo


def test_a_metronome_mark_is_a_tempo():
    sign = "<metronome><beat-unit>half</beat-unit><per-minute>60</per-minute></metronome>"
    found = reading(score(measure("C", before=f"<direction><direction-type>{sign}</direction-type></direction>")))
    assert found.song.tempo == 120


def test_the_melody_gives_the_range():
    data = score(measure("C").replace("</measure>", note(0, "G5") + note(0, "A3") + "</measure>"))
    assert reading(data).song.melody == (57, 79)


def test_two_staves_without_words_are_no_tune():
    assert reading(score(measure("C"), first=attributes(more="<staves>2</staves>"))).song.melody is None


def test_a_transposing_part_is_read_in_sounding_pitch():
    # A trumpet in Bb: written D major sounds C major; common practice.
    move = "<transpose><diatonic>-1</diatonic><chromatic>-2</chromatic></transpose>"
    found = reading(score(measure("D"), measure(harmony("A", "dominant")), first=attributes(2, more=move)))
    assert (found.song.key, [step.symbol for step in unfold(found.song)]) == ("C", ["C", "G7"])
    assert found.song.melody == (58, 58)


def test_a_fermata_holds_the_chord_under_it():
    held = note(4).replace("</note>", "<notations><fermata/></notations></note>")
    assert unfold(reading(score(measure(harmony("C") + held))).song)[0].mark == "hold"


def test_a_score_by_measures_is_a_score_by_parts():
    data = score(measure("C"), measure("F")).decode()
    turned = data.replace('<part id="P1">', "").replace("</part>", "").replace("score-partwise", "score-timewise")
    turned = turned.replace('<measure number="1">', '<measure number="1"><part id="P1">')
    assert played(turned.replace("</measure>", "</part></measure>").encode()) == "C F"


def test_a_compressed_score_is_the_same_song():
    data = score(measure("C"), measure("F"))
    assert reading(packed(data)).text == reading(data).text


def test_the_file_written_is_the_song_that_was_read():
    found = reading(score(measure("C", before=mark("Verse")), measure("F"), title='A "quoted" title'))
    assert read_song(found.text, "").title == found.song.title == 'A "quoted" title'


def test_a_missing_tempo_is_a_doubt():
    assert any("tempo" in doubt for doubt in reading(score(measure("C"))).doubts)


TRICKS = {
    "entities": b'<!DOCTYPE a [<!ENTITY b "bomb">]><score-partwise>&b;</score-partwise>',
    "outside files": b'<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><score-partwise>&b;</score-partwise>',
    "depth": b"<a>" * 2000,
    "a cut file": score(measure("C"))[:-30],
    "no music": b"<html><body/></html>",
    "no chords": score(measure()),
    "nothing": b"",
    "a picture": b"\x89PNG\r\n\x1a\n\0\0\0",
    "a cut zip": packed(score(measure("C")))[:-40],
    "an encoding nobody knows": b'<?xml version="1.0" encoding="klingon"?><score-partwise/>',
    "a path out of the zip": packed(b"<score-partwise/>", "../../evil.xml", "/etc/passwd"),
    "an empty zip": b"PK\x05\x06" + b"\0" * 18,
}


@pytest.mark.parametrize("trick", TRICKS.values(), ids=TRICKS.keys())
def test_tricks_and_damage_are_one_clear_error(trick):
    with pytest.raises(NotImported) as raised:
        reading(trick)
    assert "\n" not in str(raised.value)


def test_a_bomb_is_not_unpacked():
    with pytest.raises(NotImported, match="far more"):
        reading(packed(b"<a>" + b" " * 40_000_000 + b"</a>"))


def second_part(data: bytes, *measures: str) -> bytes:
    return data.replace(b"</score-partwise>", f'<part id="P2">{"".join(measures)}</part></score-partwise>'.encode())


def test_signs_of_the_form_may_stand_in_another_part_than_the_chords():
    chords = score(measure("C"), measure("F"), measure("G"))
    melody = [measure(), measure(after=bar_line("backward")), measure()]
    assert played(second_part(chords, *melody)) == "C F C F G"


def test_the_melody_is_the_part_that_is_sung():
    sung = note(4, "E5").replace("</note>", "<lyric><text>la</text></lyric></note>")
    data = second_part(score(measure("C")), f"<measure>{attributes()}{sung}</measure>")
    assert reading(data).song.melody == (76, 76)


def test_a_tempo_that_lasts_is_a_sections():
    slow = [measure("F", before=sound(tempo="45")), *(measure("F") for _ in range(3))]
    found = reading(score(*(measure("C", before=sound(tempo="90")) for _ in range(4)), *slow))
    assert [(section.name, section.pace) for section in found.song.sections] == [("A", 1), ("B", Fraction(1, 2))]
    assert "tempo = 45" in found.text
    assert not any("tempo" in doubt for doubt in found.doubts)


def test_a_tempo_of_a_few_measures_is_a_doubt():
    found = reading(score(measure("C", before=sound(tempo="90")), measure("F", before=sound(tempo="120"))))
    assert found.song.tempo == 90
    assert any("the tempo changes to 120" in doubt for doubt in found.doubts)


def test_a_chord_after_the_end_of_its_bar_is_left_out_with_a_doubt():
    late = harmony("G", more="<offset>9</offset>")
    found = reading(score(measure("C", before=late), measure("F")))
    assert [step.symbol for step in unfold(found.song)] == ["C", "F"]
    assert any("after the end of its bar" in doubt for doubt in found.doubts)


def test_an_ending_that_no_pass_plays_is_a_doubt():
    found = reading(score(measure("C", before=bar_line(ending="5")), measure("F", after=bar_line("", "5", "stop"))))
    assert found.doubts
