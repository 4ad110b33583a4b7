"""A key kept for good and taken back is the same file."""

from pathlib import Path

import pytest

from engine.song.file_transposing import in_key
from engine.song.reader import read_song
from tui.persistence import song_keys
from tui.persistence.folders import data_folder

SONGS = sorted((Path(__file__).parents[3] / "setlists" / "songs").glob("*.toml"))


def moved(text: str, key: str) -> str:
    changed = song_keys.text_in_key(text, key)
    song_keys.remember(text, changed)
    return changed


@pytest.mark.parametrize("song", SONGS, ids=lambda song: song.stem)
def test_any_way_through_the_keys_leads_home_to_the_letter(song: Path) -> None:
    text = song.read_text(encoding="utf-8")
    home = read_song(text, "").key
    now = text
    for key in ("Db", "E", "Gb", "F#", "Ab", home):
        now = moved(now, key + "m" * (home.endswith("m") and key != home))
    assert now == text


def test_the_way_does_not_show_in_what_is_written() -> None:
    text = next(song for song in SONGS if song.stem == "two-moorings").read_text(encoding="utf-8")
    assert moved(moved(text, "Db"), "Eb") == in_key(text, "Eb")


def test_what_was_changed_by_hand_meanwhile_is_kept() -> None:
    text = next(song for song in SONGS if song.stem == "two-moorings").read_text(encoding="utf-8")
    edited = moved(text, "Db").replace("drums in", "drums out")
    assert 'cue  = "drums out"' in moved(edited, "C")


@pytest.mark.parametrize("spoilt", ["", "[1]", "{", '{"a": 1}', "\0"])
def test_a_spoilt_memory_says_nothing(spoilt: str) -> None:
    text = SONGS[0].read_text(encoding="utf-8")
    data_folder().mkdir(parents=True, exist_ok=True)
    (data_folder() / "keys.json").write_text(spoilt, encoding="utf-8")
    assert moved(text, "A") == in_key(text, "A")


def test_only_so_many_songs_are_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(song_keys, "MOST", 2)
    for number in range(3):
        song_keys.remember(f"before {number}", f"after {number}")
    kept = (data_folder() / "keys.json").read_text(encoding="utf-8")
    assert [f"before {number}" in kept for number in range(3)] == [False, True, True]
