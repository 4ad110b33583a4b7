"""`stillhand keys --for-good` as a person runs it."""

import json
import shutil
from functools import partial
from pathlib import Path

import pytest

from engine.song.reader import read_song
from tests.tui.commands import ran, song_file

SETS = Path(__file__).parents[3] / "setlists"


@pytest.fixture
def song(tmp_path):
    return Path(shutil.copy(SETS / "songs" / "low-tide-lantern.toml", tmp_path / "lantern.toml"))


@pytest.fixture
def run(capsys):
    """Return a function that runs the command and gives (exit code, output, errors)."""
    return partial(ran, capsys, "keys")


def test_a_song_is_put_into_a_key_for_good_and_home_again(run, song):
    before = song.read_bytes()
    code, out, errors = run(str(song), "--for-good", "F")
    assert (code, read_song(song.read_text(), "").key) == (0, "F")
    assert "| Abmaj7 | Abm6 |                     | Bbmaj7 | Bbm6 |" in out.splitlines()
    assert f"Back: stillhand keys {song} --for-good Eb" in errors
    assert run(str(song), "--for-good", "Eb")[0] == 0
    assert song.read_bytes() == before


def test_a_song_of_a_set_is_rewritten_in_its_own_file(run, tmp_path):
    sets = Path(shutil.copytree(SETS, tmp_path / "setlists"))
    before = (sets / "harbour-room.toml").read_bytes()
    code, out, _ = run(str(sets / "harbour-room.toml"), "--song", "2", "--for-good", "D#", "--json")
    answer = json.loads(out)
    assert (code, answer["new"]) == (0, "Eb")
    assert read_song(Path(answer["file"]).read_text(), "").key == "Eb"
    assert (sets / "harbour-room.toml").read_bytes() == before


def test_the_key_it_has_already_leaves_the_file_alone(run, song):
    before = song.stat().st_mtime_ns
    assert "already" in run(str(song), "--for-good", "Eb")[1]
    assert song.stat().st_mtime_ns == before


def test_no_key_is_wrong_use(run, song):
    assert run(str(song), "--for-good", "H")[0] == 2


def test_a_range_says_when_the_song_names_no_tune_to_hold_it_to(run, tmp_path):
    song = tmp_path / "pier.toml"
    song.write_text('title = "Pier"\nkey = "C"\nmeter = "4/4"\ntempo = 90\n[sections.A]\nbars = "| C | F |"\n')
    code, out, errors = run(str(song), "--range", "A3-D5")
    assert code == 0
    assert "the range was left out" in errors
    assert "horns" not in out
    assert run(str(song), "--range", "A3-D5", "--lowest", "G3", "--highest", "C5")[2] == ""


def test_a_horn_in_no_horns_key_is_refused_before_anything_is_planned(run, tmp_path):
    said = run(str(tmp_path / song_file(tmp_path)), "--horns", "Bb,Q")
    assert (said.code, said.out) == (2, "")
    assert "Q is no horn's key" in said.err


def test_the_printed_command_gives_the_same_file_back(run, tmp_path):
    song = Path(shutil.copy(SETS / "songs" / "two-moorings.toml", tmp_path / "moorings.toml"))
    text = song.read_bytes()
    assert run(str(song), "--for-good", "Db")[0] == 0
    assert song.read_bytes() != text
    assert run(str(song), "--for-good", "C")[0] == 0
    assert song.read_bytes() == text
