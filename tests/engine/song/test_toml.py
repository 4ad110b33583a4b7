import tomllib
from time import process_time

import pytest

from engine.errors import ChartError
from engine.song.reader import read_song
from engine.song.toml import MOST_PARTS, read_toml
from tests.engine.song.songs import faults, said

ENDLESS = {
    "a key": "a" + ".a" * 30_000 + " = 1\n",
    "a key with spaces": "a" + " . a" * 15_000 + " = 1\n",
    "a heading": "[a" + ".b" * 30_000 + "]\n",
    "quoted parts": '"a"' + '."a"' * 15_000 + " = 1\n",
    "inside a table": "a = {b" + ".b" * 30_000 + " = 1}\n",
    "lists": "a = " + "[" * 30_000,
    "tables": "a = {" * 15_000,
    "one long word": "a" * 60_000,
    "words and no dot": "ab " * 20_000,
}


@pytest.mark.parametrize("text", ENDLESS.values(), ids=ENDLESS)
def test_what_has_no_end_is_refused_at_once(text: str) -> None:
    began = process_time()
    with pytest.raises(ChartError):
        read_song(text, "song")
    assert process_time() - began < 2


def test_a_key_of_some_parts_and_a_note_of_many_sentences_are_read() -> None:
    text = "a" + ".a" * (MOST_PARTS - 2) + ' = 1\nnote = "' + "Oh. la. " * 60 + '"\n'
    assert read_toml(text) == tomllib.loads(text)


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("title = ", 1, ["not valid TOML"]),
        ('title = "Pier', 1, ["close the text"]),
        ("title = Pier", 1, ["quotes"]),
        ('title = "a"\ntitle = "b"', 2, ["same key"]),
        ('a = 1\nbars = """\n| C |\n', 2, ["never closes"]),
        ("[sections.A]\n[sections.A]\n", 2, ["same table"]),
        ("just words", 1, ["key = value"]),
        ("a = [1, 2", 1, ["not valid TOML"]),
        ("\0", 1, ["not valid TOML"]),
        ("a = " + "[" * 3000, 1, []),
        ("a = " + "9" * 5000, 1, []),
        ("", 1, ["no title"]),
    ],
)
def test_a_half_written_file_is_one_plain_fault(text: str, line: int, words: list[str]) -> None:
    found = faults(text)
    assert found
    assert found[0].line == line, said(text)
    for word in words:
        assert word in said(text)
