"""Bars as bands write them: how chords share the beats, and what is said when they do not."""

from fractions import Fraction

import pytest

from engine.chord.model import Chord
from engine.errors import Fault
from engine.song.bars import read_bars
from engine.song.model import Bar
from engine.song.repeats import framed
from engine.song.section_draft import Draft
from engine.theory.meter import meter


def as_written(word: str) -> tuple[str, Chord | None]:
    """Take every word for a chord: these tests are about bars."""
    return word, None


def read(text: str, of: str = "4/4", pickup: Fraction = Fraction(0)) -> tuple[tuple[Bar, ...], list[Fault]]:
    draft = Draft(meter(of), as_written, lambda offset: (1, offset + 1), pickup)
    read_bars(text, draft)
    return framed(draft), draft.faults


def chords(text: str, of: str = "4/4") -> list[list[tuple[str, float]]]:
    bars, faults = read(text, of)
    assert not faults
    return [[(event.symbol, float(event.beats)) for event in bar.events] for bar in bars]


def faults(text: str, of: str = "4/4") -> list[str]:
    return [str(fault) for fault in read(text, of)[1]]


@pytest.mark.parametrize(
    ("text", "of", "expected"),
    [
        ("| C |", "4/4", [[("C", 4)]]),
        ("| C F |", "4/4", [[("C", 2), ("F", 2)]]),
        ("| C F G C |", "4/4", [[("C", 1), ("F", 1), ("G", 1), ("C", 1)]]),
        ("| C F G |", "3/4", [[("C", 1), ("F", 1), ("G", 1)]]),
        ("| C F |", "6/8", [[("C", 1), ("F", 1)]]),
        ("| C / / F / G |", "6/8", [[("C", 1), ("F", 2 / 3), ("G", 1 / 3)]]),
        ("| Fm7 / / Bb7 |", "4/4", [[("Fm7", 3), ("Bb7", 1)]]),
        ("| C/E / F/A / |", "4/4", [[("C/E", 2), ("F/A", 2)]]),
        ("| C // F |", "4/4", [[("C", 3), ("F", 1)]]),
        ("| C /// |", "4/4", [[("C", 4)]]),
        ("| C / / / / F G |", "7/8", [[("C", 5), ("F", 1), ("G", 1)]]),
        ("C | F", "4/4", [[("C", 4)], [("F", 4)]]),
        ("| C |\n| F |\n", "4/4", [[("C", 4)], [("F", 4)]]),
        ("| C | % |", "4/4", [[("C", 4)], [("C", 4)]]),
        ("| C F | % | % |", "4/4", [[("C", 2), ("F", 2)]] * 3),
        ("| C | / / F / |", "4/4", [[("C", 4)], [("C", 2), ("F", 2)]]),
        ("| C(1.5 beats) F(2.5 beats) |", "4/4", [[("C", 1.5), ("F", 2.5)]]),
        ("| C7(b9, #11) |", "4/4", [[("C7(b9, #11)", 4)]]),
        ("| N.C. | C |", "4/4", [[("N.C.", 4)], [("C", 4)]]),
    ],
)
def test_chords_share_a_bar(text: str, of: str, expected: list[list[tuple[str, float]]]) -> None:
    assert [[(name, pytest.approx(beats)) for name, beats in bar] for bar in expected] == chords(text, of)


def test_a_bar_in_another_meter_holds_for_one_bar() -> None:
    bars, found = read("| C | (3/4) F | G |")
    assert not found
    assert [str(bar.meter) for bar in bars] == ["4/4", "3/4", "4/4"]
    assert [bar.events[0].beats for bar in bars] == [4, 3, 4]


@pytest.mark.parametrize("text", ["| C / / F(push) |", "| C / / F (push) |", "| C / / F( Push ) |"])
def test_a_trade_word_may_be_glued_or_spaced(text: str) -> None:
    bars, found = read(text)
    assert not found
    assert [event.mark for event in bars[0].events] == ["", "push"]


def test_a_word_spaced_after_beats_belongs_to_the_chord_that_lasts() -> None:
    bars, _ = read("| C / F / (hold) |")
    assert [(event.symbol, event.mark) for event in bars[0].events] == [("C", ""), ("F", "hold")]


def test_a_word_glued_to_a_beat_strikes_the_chord_again() -> None:
    bars, found = read("| C / /(stop) / |")
    assert not found
    assert [(event.symbol, event.beat, event.mark) for event in bars[0].events] == [("C", 1, ""), ("C", 3, "stop")]


def test_a_pickup_bar_ends_on_the_last_beat() -> None:
    bars, found = read("A7 | D | G |", "3/4", Fraction(1))
    assert not found
    assert (bars[0].events[0].beat, bars[0].events[0].beats) == (3, 1)


@pytest.mark.parametrize(
    ("text", "of", "words"),
    [
        ("| C F G |", "4/4", ["1:3:", "3 chords", "4 beats", "as in C / F G"]),
        ("| C F |", "3/4", ["2 chords", "3 beats", "as in C / F"]),
        ("| C D E F G |", "4/4", ["5 chords", "as in C(0.5 beats) D(0.5 beats)"]),
        ("| Am F E |", "6/8", ["3 chords", "as in Am / / / F E"]),
        ("| C / / |", "4/4", ["adds up to 3 beats", "4/4 has 4 beats", "add 1 /"]),
        ("| C / / / / F |", "4/4", ["adds up to 6 beats", "take 2 beats out"]),
        ("| C | | F |", "4/4", ["nothing in it", "%"]),
        ("| % | C |", "4/4", ["1:3:", "no bar stands before"]),
        ("| C % |", "4/4", ["% beside"]),
        ("| C | (3/4) % |", "4/4", ["bar before has 4/4"]),
        ("| / C / / |", "4/4", ["no chord before"]),
        ("| (push) C |", "4/4", ["(push)", "after the chord"]),
        ("| C (hodl) |", "4/4", ["did you mean (hold)?"]),
        ("| C (3/4) |", "4/4", ["inside a bar"]),
        ("| (3/5) C |", "4/4", ["no meter"]),
        ("| C x3 |", "4/4", ["without a repeat"]),
        ("||: C | F |", "4/4", ["1:1:", "never closed", ":||"]),
        ("||: C ||: F :||", "4/4", ["never closed"]),
        ("||: C [1. F :|| [3. G ||", "4/4", ["without ending 2"]),
        ("||: C [1. F | [2. G :||", "4/4", ["[2. is never played"]),
        ("||: C [1. F :|| [1. G ||", "4/4", ["twice"]),
        ("||: C [0. F :|| G |", "4/4", ["[0. names no pass"]),
        ("||: C [1. F :|| x3 [2. G ||", "4/4", ["x3 after an ending", "say it with the endings"]),
        ("| C [1. F :|| [2. G ||", "4/4", []),
        ("| C [1. F | [2. G ||", "4/4", ["no repeat"]),
        ("||: C [1. F :|| [2. G :||", "4/4", ["last ending"]),
        ("| C :|| x0", "4/4", ["1 to 99"]),
        ("| C | [x F |", "4/4", ["belongs to no sign"]),
        ("| C :|| [1.", "4/4", ["no bar follows"]),
        ("||: ||: C :||", "4/4", ["two repeats open"]),
        ("||: C [1. [2. F :||", "4/4", ["two endings begin"]),
        ("| (3/4) | C |", "4/4", ["a bar of 3/4 with nothing in it"]),
        ("| C(3 beats) F |", "4/4", []),
        ("| C(2.5 beats) F |", "4/4", ["adds up to 3.5 beats", "beats in brackets"]),
        ("| C(push) (stop) |", "4/4", ["(stop) after (push)", "one word"]),
        ("| (2 beats) C |", "4/4", ["after a chord"]),
        ("| C(0 beats) F |", "4/4", ["after a chord"]),
        ("| % % |", "4/4", ["% twice"]),
        ("| C (push) :|| x2 x3", "4/4", ["without a repeat"]),
    ],
)
def test_what_does_not_add_up_is_said(text: str, of: str, words: list[str]) -> None:
    said = "\n".join(faults(text, of))
    assert bool(said) == bool(words)
    for word in words:
        assert word in said


def frames(text: str) -> list[tuple[bool, int, tuple[int, ...]]]:
    bars, found = read(text)
    assert not found
    return [(bar.repeat_start, bar.repeat_times, bar.ending) for bar in bars]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("||: C | F :||", [(True, 0, ()), (False, 2, ())]),
        ("||: C :|| x3", [(True, 3, ())]),
        ("||: C :||x3 F |", [(True, 3, ()), (False, 0, ())]),
        ("||: C :|| 3x F |", [(True, 3, ()), (False, 0, ())]),
        ("||: C :|| 3x in all\n F |", [(True, 3, ()), (False, 0, ())]),
        ("| C | F :||", [(True, 0, ()), (False, 2, ())]),
        ("| C | F | :||", [(True, 0, ()), (False, 2, ())]),
        ("|: C :|: F :|", [(True, 2, ()), (True, 2, ())]),
        ("||: C [1. F :|| [2. G ||", [(True, 0, ()), (False, 2, (1,)), (False, 0, (2,))]),
        ("||: C\n[1. | F :||\n[2. | G ||", [(True, 0, ()), (False, 2, (1,)), (False, 0, (2,))]),
        ("||: C [1,2. F :|| [3. G || A |", [(True, 0, ()), (False, 3, (1, 2)), (False, 0, (3,)), (False, 0, ())]),
        ("||: C [1. F :|| G |", [(True, 0, ()), (False, 2, (1,)), (False, 0, ())]),
    ],
)
def test_repeats_and_endings_are_framed(text: str, expected: list[tuple[bool, int, tuple[int, ...]]]) -> None:
    assert frames(text) == expected


def test_a_repeat_to_the_top_leaves_the_pickup_out() -> None:
    bars, _ = read("A7 | D | G :||", "4/4", Fraction(1))
    assert [bar.repeat_start for bar in bars] == [False, True, False]


@pytest.mark.parametrize(("mended", "of"), [("C / F G", "4/4"), ("C / F", "3/4"), ("Am / / / F E", "6/8")])
def test_a_bar_mended_as_the_fault_shows_it_adds_up(mended: str, of: str) -> None:
    assert faults(f"| {mended} |", of) == []


def test_a_section_that_is_far_too_long_is_said_once() -> None:
    assert len([fault for fault in faults("| C " * 2100 + "|") if "bars in one section" in fault]) == 1
