"""Keys and tempos as a player types them between two songs."""

import pytest

from engine.theory.meter import meter
from tests.tui import charts
from tui.input import prompts
from tui.input.prompts import Prompt
from tui.input.typed_values import distance_words, read_wanted_key, read_wanted_tempo, tapped_tempo, wanted_key
from tui.session import rehearsal as stand
from tui.session.rehearsal import NotThere, Rehearsal


@pytest.fixture
def now() -> Rehearsal:
    return stand.opened(charts.harbour_set(), charts.unfold)


@pytest.mark.parametrize(
    ("typed", "key", "wanted"),
    [
        ("eb", "C", "Eb"), ("F#", "C", "F#"), ("b", "C", "B"), ("bb", "C", "Bb"), ("D#", "C", "Eb"), ("G#", "C", "Ab"),
        ("Dm", "Cm", "Dm"), ("d", "Cm", "Dm"), ("d#", "Cm", "D#m"), ("Gb", "Em", "F#m"), ("+2", "C", "D"),
        ("-2", "C", "Bb"), ("2", "Eb", "F"), ("-1", "F", "E"), ("0", "F", "F"), ("-3", "Cm", "Am"),
    ],
)  # fmt: skip
def test_a_key_is_typed_by_name_or_half_steps(typed: str, key: str, wanted: str) -> None:
    assert read_wanted_key(typed, key) == wanted


@pytest.mark.parametrize("typed", ["", "h", "x2", "+", "Ebx", "C7"])
def test_what_is_no_key_is_refused_with_what_may_be_typed(typed: str) -> None:
    with pytest.raises(NotThere, match=r"a key .* or half steps"):
        read_wanted_key(typed, "C")


def test_an_octave_is_no_other_key() -> None:
    with pytest.raises(NotThere, match="at most 11 half steps"):
        read_wanted_key("12", "C")


def test_a_major_song_stays_major() -> None:
    with pytest.raises(NotThere, match="major"):
        read_wanted_key("Dm", "C")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [("D", "Eb", "half a step up"), ("D", "C", "a whole step down"), ("C", "F", "a fourth up"),
     ("C", "G", "a fourth down"), ("Cm", "F#m", "a tritone up"), ("C", "C", "the same key")],
)  # fmt: skip
def test_the_distance_is_said_the_shorter_way(old: str, new: str, words: str) -> None:
    assert distance_words(old, new) == words


@pytest.mark.parametrize(("typed", "wanted"), [("92", 92), ("+4", 104), ("-4", 96), ("92.5", 92.5), ("92,5", 92.5)])
def test_a_tempo_is_a_figure_or_a_nudge(typed: str, wanted: float) -> None:
    assert read_wanted_tempo(typed, 100.0) == wanted


@pytest.mark.parametrize("typed", ["", "fast", "1e3", "+", "9999"])
def test_what_is_no_tempo_is_refused_with_what_may_be_typed(typed: str) -> None:
    with pytest.raises(NotThere, match=r"a tempo .* or a nudge"):
        read_wanted_tempo(typed, 100.0)


def test_taps_half_a_second_apart_are_120() -> None:
    assert tapped_tempo((1.0, 1.5, 2.0, 2.5), meter("4/4")) == 120.0


def test_one_late_tap_does_not_matter() -> None:
    assert tapped_tempo((0.0, 0.5, 1.0, 1.9, 2.4, 2.9), meter("4/4")) == 120.0


def test_half_notes_tapped_in_cut_time_count_two_quarters() -> None:
    assert tapped_tempo((0.0, 0.5, 1.0), meter("2/2")) == 240.0


def test_dotted_quarters_are_counted_as_such() -> None:
    assert tapped_tempo((0.0, 1.0), meter("6/8")) == 60.0


@pytest.mark.parametrize("taps", [(), (1.0,), (1.0, 1.0)])
def test_too_few_taps_give_no_tempo(taps: tuple[float, ...]) -> None:
    assert tapped_tempo(taps, meter("4/4")) is None


def test_up_and_down_are_half_steps(now: Rehearsal) -> None:
    prompt = prompts.turned(prompts.turned(Prompt("key"), -1), -1)
    assert wanted_key(prompt, now) == "Db"


def test_typing_forgets_the_half_steps(now: Rehearsal) -> None:
    prompt = prompts.typed(prompts.turned(Prompt("key"), 1), "g")
    assert wanted_key(prompt, now) == "G"


def test_a_song_that_is_not_open_has_its_own_key(now: Rehearsal) -> None:
    assert wanted_key(Prompt("key", song=1, typed="+2"), now) == "Bm"
