"""Old and new key side by side."""

from engine.song.key_comparison import side_by_side
from engine.song.reader import read_song
from engine.song.transposing import transpose

SONG = read_song(
    'title = "X"\nkey = "C"\n[sections.A]\nbars = "| C | F | G7 |"\n[sections.B]\nkey = "D"\nbars = "| D |"\n', ""
)


def test_every_bar_stands_beside_itself_in_the_new_key():
    assert side_by_side(SONG, transpose(SONG, "Eb")) == [
        "in C        in Eb", "",
        "A           A",
        "| C | F |   | Eb | Ab |",
        "| G7 |      | Bb7 |", "",
        "B in D      B in F",
        "| D |       | F |",
    ]  # fmt: skip
