"""A form told in words. Common practice."""

import pytest

from engine.formats.chart_text.spoken_form import form_line, order_of, played_again

NAMES = ["Intro", "A", "B", "Verse", "Verse 2", "Chorus"]


@pytest.mark.parametrize(
    ("order", "played", "rest"),
    [
        ("Intro A A B A", "Intro A A B A", ""),
        ("Intro, Verse x2, Chorus", "Intro Verse Verse Chorus", ""),
        ("Verse - Chorus - Verse 2", "Verse Chorus Verse 2", ""),
        ("A A B, out on last 2", "A A B", "out on last 2"),
    ],
)
def test_an_order_in_words_names_the_sections(order, played, rest):
    found, left = order_of(order, NAMES)
    assert (" ".join(found), left) == (played, rest)


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("Repeat Verse", ("Verse", 0)),
        ("Chorus twice", ("Chorus", 2)),
        ("Solo over the verse", ("Verse", 0)),
        ("Guitar solo on A", ("A", 0)),
        ("Verse 2 x3", ("Verse 2", 3)),
        ("Verses are for Ruth", None),
        ("A day like any other", None),
        ("Chorus", None),
    ],
)
def test_a_section_is_asked_for_again(words, found):
    assert played_again(words, NAMES) == found


def test_only_a_heading_of_the_form_is_one():
    assert (form_line("Form: A A B"), form_line("A formal ball")) == ("A A B", "")
