"""Forms that can be read in two ways are played in one, and that is said."""

from engine.formats.musicxml_in.form_doubts import form_doubts
from engine.formats.musicxml_in.measure import Measure
from engine.formats.musicxml_in.playing_order import frames_of, playing_order
from engine.theory.key import Key
from engine.theory.meter import Meter
from engine.theory.pitch import NoteName


def doubts(*signs: dict[str, object]) -> list[str]:
    """Return the doubts about measures with these signs."""
    measures = []
    for number, values in enumerate(signs, 1):
        measure = Measure(str(number), Meter(4, 4), Key(NoteName(0)))
        for name, value in values.items():
            setattr(measure, name, value)
        measures.append(measure)
    frames = frames_of(measures, pickup=False)
    return form_doubts(measures, frames, playing_order(measures, frames)[0])


def test_a_plain_repeat_is_no_doubt():
    assert doubts({"forward": True}, {"backward": 2}, {"forward": True}, {"backward": 2}) == []
    assert doubts({}, {"backward": 2}, {}) == []


def test_a_second_repeat_that_nothing_opens_goes_back_to_the_first_one_s_end_and_that_is_said():
    assert doubts({}, {"backward": 2}, {}, {"backward": 2}) == [
        "measure 4: the repeat has no sign that opens it, read as from measure 3, where the one before ends"
    ]


def test_an_ending_without_a_second_one_is_said():
    first = {"ending": (1,), "ending_stops": True, "backward": 2}
    second = {"ending": (2,), "ending_stops": True}
    assert "without a second one" in doubts({"forward": True}, first, {})[0]
    assert doubts({"forward": True}, first, second) == []


def test_a_jump_says_how_far_it_goes():
    assert doubts({}, {"fine": True}, {"jump": "dacapo"}) == [
        "measure 3: after D.C. the song is played to Fine in measure 2"
    ]
    assert doubts({}, {"segno": "segno"}, {"jump": "dalsegno"}, {}) == [
        "measure 3: after D.S. the song is played to the end"
    ]
