"""What stands over a measure. Source: MusicXML 4.0 and XML 1.0 (W3C)."""

from xml.etree.ElementTree import Element, fromstring, tostring

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.formats.musicxml_out.directions import add_section, add_tempo, add_words, printable
from engine.theory.meter import Meter
from tests.engine.performance.by_hand import plan_by_hand


@given(st.text(st.characters(codec=None), max_size=20))
def test_any_words_make_xml_that_can_be_read(text):
    measure = Element("measure")
    add_words(measure, text)
    assert fromstring(tostring(measure)).find(".//words") is not None


@pytest.mark.parametrize("sign", ["\x00", "\x1b", "\ud800", "\ufffe", "\uffff"])
def test_signs_that_xml_cannot_hold_are_left_out(sign):
    # XML 1.0, production 2, Char.
    assert printable(f"Pi{sign}er") == "Pier"


@pytest.mark.parametrize("text", ["Smørrebrød", "海の歌", "a & b < c", "\U0001d11e", "\ue050"])
def test_letters_of_any_script_stay(text):
    assert printable(text) == text


def test_a_feel_stands_in_front_of_the_tempo_and_is_told_to_programs_too():
    measure = Element("measure")
    add_tempo(measure, 112, Meter(4, 4), "swing")
    (direction,) = measure
    assert [sort.tag for kind in direction.iter("direction-type") for sort in kind] == ["words", "metronome"]
    assert (direction.find("sound").get("tempo"), direction.findtext("sound/swing/first")) == ("112", "2")


def test_a_tempo_alone_has_no_feel():
    measure = Element("measure")
    add_tempo(measure, 58, Meter(6, 8))
    assert (measure.find("direction/sound/swing"), measure.find(".//sound").get("tempo")) == (None, "87")


def test_a_section_is_a_rehearsal_mark_with_its_cue_and_what_ends_its_vamp():
    facts = {"section": "Vamp", "cue": "drums out", "until": "cue"}
    measure = Element("measure")
    add_section(measure, plan_by_hand((4, (48,), (), facts)).steps[0].step)
    assert measure.findtext(".//rehearsal") == "Vamp"
    assert [words.text for words in measure.iter("words")] == ["drums out", "till cue"]
