"""`stillhand import` as a person runs it."""

import json
from functools import partial

import pytest
from click.testing import CliRunner

from engine.song.reader import read_song
from tests.tui.commands import ran, song_file

CHART = "Pier   key: Eb  4/4  96\nVerse ||: Ebmaj7 | Fm7 Bb7 :||\n"
SCORE = (
    '<score-partwise version="4.0"><part id="P1"><measure number="1"><attributes><divisions>1</divisions></attributes>'
    "<harmony><root><root-step>C</root-step></root><kind>major-seventh</kind></harmony>"
    "<note><rest/><duration>4</duration></note></measure></part></score-partwise>"
)


@pytest.fixture
def run(capsys):
    """Return a function that runs the command and gives (exit code, output, errors)."""
    return partial(ran, capsys, "import")


def test_a_pasted_chart_is_printed_as_a_song_file_with_its_form_beside(run, tmp_path):
    (tmp_path / "pier.txt").write_text(CHART)
    code, out, errors = run(str(tmp_path / "pier.txt"))
    assert code == 0
    assert read_song(out, "").key == "Eb"
    assert errors.splitlines()[0] == "Verse: 4 bars, 0:10 at 96"


def test_a_lead_sheet_is_written_to_a_file_and_named_after_its_own(run, tmp_path):
    (tmp_path / "slow-ferry.musicxml").write_text(SCORE)
    target = tmp_path / "songs" / "ferry.toml"
    code, out, errors = run(str(tmp_path / "slow-ferry.musicxml"), "--to", str(target))
    assert (code, out) == (0, f"{target} is written.\n")
    assert read_song(target.read_text(), "").title == "Slow Ferry"
    assert "doubt: no tempo is written" in errors


def test_a_file_that_exists_stays_unless_forced(run, tmp_path):
    (tmp_path / "pier.txt").write_text(CHART)
    target = tmp_path / "pier.toml"
    target.write_text("mine")
    assert run(str(tmp_path / "pier.txt"), "--to", str(target))[0] == 2
    assert target.read_text() == "mine"
    assert run(str(tmp_path / "pier.txt"), "--to", str(target), "--force")[0] == 0


def test_json_has_form_doubts_and_song(run, tmp_path):
    (tmp_path / "pier.txt").write_text(CHART)
    code, out, _ = run(str(tmp_path / "pier.txt"), "--json", "--key", "C")
    answer = json.loads(out)
    assert code == 0
    assert set(answer) == {"form", "doubts", "song"}
    assert read_song(answer["song"], "").key == "C"


def test_a_reading_settles_a_doubt_for_the_whole_song(run, tmp_path):
    (tmp_path / "pier.txt").write_text("key: C\n| C2 | Co | C2 |")
    code, out, errors = run(str(tmp_path / "pier.txt"), "--reading", "two=no third")
    assert (code, read_song(out, "").sections[0].bars[2].events[0].chord.degrees) == (0, ("1", "5", "9"))
    assert "without the third" in errors


@pytest.mark.parametrize(
    ("name", "content", "code"),
    [("none.mxl", None, 1), ("cut.mxl", b"PK\x03\x04cut", 1), ("noise.bin", bytes(range(256)), 1),
     ("letter.txt", b"Dear all, we meet at eight.", 1), ("open.txt", b"||: C | F |", 1)],
)  # fmt: skip
def test_what_gives_no_song_is_one_or_two_lines_without_a_traceback(run, tmp_path, name, content, code):
    if content is not None:
        (tmp_path / name).write_bytes(content)
    ended, out, errors = run(str(tmp_path / name))
    assert (ended, out) == (code, "")
    assert 1 <= len(errors.splitlines()) <= 2
    assert "Traceback" not in errors


@pytest.mark.parametrize(
    "words", [["x.txt", "--to", "x.mid"], ["x.txt", "--reading", "o=maybe"], ["x.txt", "--key", "H"]]
)
def test_wrong_use_is_exit_code_two(run, words):
    assert run(*words)[0] == 2


def test_standard_input_is_a_dash(monkeypatch):
    from tui.cli.import_song import import_

    answer = CliRunner().invoke(import_, ["-"], input="key: G\n| G | C |")
    assert answer.exit_code == 0
    assert 'key    = "G"' in answer.output


def test_a_song_file_is_not_imported_again(run, tmp_path):
    said = run(str(tmp_path / song_file(tmp_path)))
    assert said.code == 2
    assert "is a song file already" in said.err


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("gone.toml", None, "there is no such file"),
        ("noise.dat", b"\0\1\2", "that is neither MusicXML nor text"),
        ("verse.txt", b"Ferry\n3/4\n| C | . |", "the bar adds up"),
    ],
)
def test_what_gives_no_song_is_said_with_the_files_own_name(run, tmp_path, name, content, words):
    file = tmp_path / name
    if content is not None:
        file.write_bytes(content)
    said = run(str(file))
    assert said.code == 1
    assert said.err.startswith(str(file))
    assert words in said.err
