"""Whatever is imported is a song or one clear error: never a hang, never a crash."""

from fractions import Fraction

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.errors import EngineError
from engine.formats.import_choices import AS_READ, Answers, Choice
from engine.formats.import_file import song_from_file
from engine.formats.musicxml_in.harmony import KINDS
from engine.formats.musicxml_in.measures import read_part
from engine.formats.musicxml_in.mending import mend_codas, mend_endings
from engine.formats.musicxml_in.playing_order import frames_of, playing_order
from engine.formats.musicxml_in.reader import _pickup
from engine.formats.musicxml_in.xml import score_tree
from engine.song.reader import read_song
from engine.song.unfolding import unfold
from tests.engine.formats.scores import (
    attributes,
    bar_line,
    degree,
    harmony,
    mark,
    measure,
    packed,
    score,
    sound,
    words,
)

QUIET = settings(suppress_health_check=[HealthCheck.too_slow], max_examples=80)


def imported(data: bytes) -> None:
    """Import, with every doubt as it is and settled the other way, and demand a song whose file says the same."""
    for choice in _one(data, AS_READ):
        _one(data, choice.answers)


def _one(data: bytes, answers: Answers) -> tuple[Choice, ...]:
    try:
        found = song_from_file(data, "Any", answers)
    except EngineError:
        return ()
    assert {choice.doubt for choice in found.choices} <= set(found.doubts)
    again = read_song(found.text, "")
    assert [step.symbol for step in unfold(again)] == [step.symbol for step in unfold(found.song)]
    assert all(step.beats > Fraction(0) for step in unfold(again))
    return found.choices


SAMPLE = score(
    measure(harmony("G", "dominant", degree(9, -1, "add")), quarters=1),
    measure("C", "F", before=mark("A") + bar_line("forward") + sound(segno="1", tempo="96")),
    measure("G", before=bar_line(ending="1"), after=bar_line("backward", "1", "stop")),
    measure("A", before=bar_line(ending="2"), after=bar_line("", "2", "stop") + sound(tocoda="1")),
    measure("D", before=attributes(2, "3/4"), after=words("D.S. al Coda"), quarters=3),
    measure("Bb", before=sound(coda="1"), quarters=3),
)
CHART = "Pier  key: Eb 4/4 112\nIntro | Fm7 / Bb7 / |\nA ||: Ebmaj7 | % [1. | C7 :|| [2. | Eb6 || D.S. al Coda\n"


@QUIET
@given(st.binary(max_size=300) | st.text(max_size=300).map(str.encode))
def test_any_bytes(data):
    imported(data)


@QUIET
@given(st.integers(0, len(SAMPLE)), st.binary(max_size=12), st.integers(0, 40))
def test_a_score_with_a_piece_torn_out_or_scribbled_over(at, scribble, gap):
    imported(SAMPLE[:at] + scribble + SAMPLE[at + gap :])


@QUIET
@given(st.integers(0, 1500), st.binary(min_size=1, max_size=6))
def test_a_compressed_score_with_a_few_bytes_changed(at, scribble):
    data = packed(SAMPLE)
    at %= len(data)
    imported(data[:at] + scribble + data[at + len(scribble) :])


@QUIET
@given(st.integers(0, len(CHART)), st.text("|:[]()/%x123. ABCHmb#7\n\t-", max_size=12), st.integers(0, 30))
def test_a_chart_with_a_piece_torn_out_or_scribbled_over(at, scribble, gap):
    imported((CHART[:at] + scribble + CHART[at + gap :]).encode())


@QUIET
@given(st.text("|:[]()/%x12. ABCGHmbj#79susCodaD.S.\n\t-", max_size=200))
def test_any_scribble_of_chart_signs(text):
    imported(text.encode())


SIGNS = st.lists(
    st.sampled_from(
        [bar_line("forward"), bar_line("backward"), bar_line("backward", "1", "stop"), bar_line(ending="1"),
         bar_line(ending="2"), bar_line(ending="1,2"), bar_line("", "2", "stop"), bar_line("", "1", "discontinue"),
         bar_line("backward", times="4"), mark("A"), mark("B"), sound(segno="x"), sound(coda="x"), sound(tocoda="x"),
         sound(dalsegno="x"), sound(dacapo="yes"), sound(fine="yes"), words("D.S. al Coda"), words("To Coda"),
         attributes(2, "3/4"), attributes(-1, "6/8"), bar_line(style="light-light"), sound(tempo="60"),
         sound(tempo="133")]
    ),
    max_size=3,
)  # fmt: skip
KIND = st.sampled_from(sorted(KINDS))
CHANGES = st.lists(
    st.builds(degree, st.integers(0, 14), st.integers(-2, 2), st.sampled_from(["add", "alter", "subtract"])), max_size=3
)
CHORD = st.builds(
    lambda root, kind, changes: harmony(root, kind, "".join(changes)),
    st.sampled_from(["C", "Eb", "F#", "B"]), KIND, CHANGES,
)  # fmt: skip
MEASURE = st.builds(
    lambda chords, before, after, quarters: measure(
        *chords, before="".join(before), after="".join(after), quarters=quarters
    ),
    st.lists(CHORD, max_size=2), SIGNS, SIGNS, st.sampled_from([4, 4, 4, 3, 2, 1, 6]),
)  # fmt: skip


@settings(suppress_health_check=[HealthCheck.too_slow], max_examples=120)
@given(st.lists(MEASURE, min_size=1, max_size=9))
def test_any_form_that_signs_can_make(measures):
    imported(score(*measures))


@settings(suppress_health_check=[HealthCheck.too_slow], max_examples=100)
@given(st.lists(st.tuples(SIGNS, SIGNS), min_size=2, max_size=8))
def test_sections_and_roadmap_play_what_the_signs_say(signs):
    """The oracle is the playing order of bare measures; cutting it into sections may change nothing."""
    roots = ("C", "Db", "D", "Eb", "E", "F", "Gb", "G")
    data = score(
        *(measure(root, before="".join(b), after="".join(a)) for root, (b, a) in zip(roots, signs, strict=False))
    )
    measures, _ = read_part(score_tree(data))
    mend_codas(measures)
    mend_endings(measures)
    order, _ = playing_order(measures, frames_of(measures, _pickup(measures) > 0))
    if not _pickup(measures):
        steps = unfold(song_from_file(data).song)
        assert [step.symbol for step in steps if step.beat == 1] == [roots[at] for at in order]


@settings(max_examples=150)
@given(chord=CHORD)
def test_any_kind_with_any_degrees_is_a_chord(chord):
    found = song_from_file(score(measure(chord)))
    step = unfold(found.song)[0]
    assert step.symbol == "N.C." or step.chord is not None
