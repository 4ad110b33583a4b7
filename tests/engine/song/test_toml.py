import tomllib
from time import process_time

import pytest

from engine.errors import ChartError
from engine.song.reader import read_song
from engine.song.toml import MOST_PARTS, read_toml

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
