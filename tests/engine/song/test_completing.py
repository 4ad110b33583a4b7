"""What is offered while a song's file is typed."""

import pytest

from engine.song.completing import completions

SONG = """\
title = "T"
feel = "¶"
roadmap = "Intro, ¶"
[sections.Intro]
bars = '''
| ¶
| C |
'''
[sections."Verse 2"]
¶
"""


def at(place: int, typed: str) -> tuple[int, tuple[str, ...]]:
    """Return what is offered where something is typed at one of the marks, without its beginning."""
    parts = SONG.split("¶")
    before = "".join(parts[: place + 1]) + typed
    start, words = completions(before + "".join(parts[place + 1 :]), len(before))
    assert before[start:].lower() == typed.lower() or typed == ""
    return start, words


@pytest.mark.parametrize(
    ("place", "typed", "first"),
    [
        (0, "s", ("straight", "swing")), (0, "Sw", ("swing",)), (1, "v", ("Verse 2",)), (1, "", ("Intro", "Verse 2")),
        (2, "Dm", ("Dm7", "Dmaj7", "Dm6")), (3, "pi", ("pickup",)), (3, "zz", ()),
    ],
)  # fmt: skip
def test_what_follows_is_offered_by_where_it_is_typed(place: int, typed: str, first: tuple[str, ...]):
    assert at(place, typed)[1][: len(first)] == first
    assert bool(at(place, typed)[1]) == bool(first)


def test_keys_of_a_song_are_offered_before_its_sections():
    assert completions("te", 2) == (0, ("tempo",))


def test_patterns_of_the_left_hand_are_offered_by_name():
    typed = 'left_hand = "st'
    assert completions(typed, len(typed))[1] == ("stride",)


@pytest.mark.parametrize("offset", range(0, len(SONG), 3))
def test_something_is_answered_at_every_place_of_a_text(offset: int):
    start, _ = completions(SONG, offset)
    assert 0 <= start <= offset
