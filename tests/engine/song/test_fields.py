"""Values of a file: of the right kind, under a known key."""

import pytest

from engine.song.reader import read_song
from tests.engine.song.songs import faults, said, short


@pytest.mark.parametrize(
    ("head", "words"),
    [
        ("sections = 3", ["sections is 3"]),
        ("sections = {A = 3}", ["A is 3"]),
        ("sections = {}", ["no sections"]),
        ("pins = 3\n[sections.A]\nbars='|C|'", ["pins is 3"]),
        ("pins = [1]\n[sections.A]\nbars='|C|'", ["[[pins]]"]),
        ("voicing = []\n[sections.A]\nbars='|C|'", ["voicing is a list"]),
        ("melody = 1\n[sections.A]\nbars='|C|'", ["melody is 1"]),
        ("roadmap = 1\n[sections.A]\nbars='|C|'", ["roadmap is 1"]),
        ("roadmap = ''\n[sections.A]\nbars='|C|'", ["plays nothing"]),
        ("count = true\n[sections.A]\nbars='|C|'", ["count is"]),
        ("[sections.A]\nbars = ''", ["bars is empty"]),
        ("[sections.A]\nbars = '|'", ["no bars"]),
        ("[sections.A]", ["no bars"]),
        ("[sections.A]\nbars = 4", ["bars is 4"]),
        ("[sections.A]\nbars='|C|'\npickup = 'x'", ["pickup is"]),
        ("[sections.A]\nbars='||: C :|| x9999'", ["1 to 99"]),
        ("names = 'french'\n[sections.A]\nbars='|C|'", ["names is 'french'"]),
        ("minor_tonic = 3\n[sections.A]\nbars='|C|'", ["1 or 6"]),
    ],
)
def test_a_value_of_the_wrong_kind_is_said(head: str, words: list[str]) -> None:
    text = f'title = "Pier"\nkey = "C"\n{head}\n'
    assert faults(text)
    for word in words:
        assert word in said(text)


@pytest.mark.parametrize(
    ("text", "key", "hint"),
    [
        ("tempoo = 90\n" + short("| C |"), "tempoo", "did you mean tempo?"),
        (short("| C |", 'bar = "x"'), "bar", "did you mean bars?"),
        (short("| C |", "[voicing]\nmethd = 3"), "methd", "did you mean method?"),
    ],
)
def test_an_unknown_key_is_noted_with_the_nearest_known_one(text: str, key: str, hint: str) -> None:
    (note,) = read_song(text, "").doubts
    assert note[2] == key
    assert hint in note[3]
