"""The commands as a person or another program meets them: what is printed where, and the exit code."""

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tui import cli

ROOT = Path(__file__).parents[2]
SONG = """\
title = "Pier Lights"
key = "C"
meter = "4/4"
tempo = 100
roadmap = "Verse x2"

[sections.Verse]
bars = \"\"\"
| Dm7 | G7 | Cmaj7 | % |
\"\"\"
"""
FAULTY = SONG.replace("| Dm7 | G7 ", "| Dm7 | Gxyz ")


class Said(NamedTuple):
    code: int
    out: str
    err: str


Run = Callable[..., Said]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Run:
    """Run a command in an empty folder with the player's own settings out of reach."""
    monkeypatch.chdir(tmp_path)
    for name in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "home"))

    def call(*arguments: str) -> Said:
        with pytest.raises(SystemExit) as end:
            cli.main(list(arguments))
        out, err = capsys.readouterr()
        return Said(int(end.value.code or 0), out, err)

    return call


def piped(*arguments: str, stdin: str = "", **environment: str) -> subprocess.CompletedProcess[str]:
    environ = {**os.environ, "PYTHONPATH": str(ROOT), **environment}
    command = [sys.executable, "-m", "tui", *arguments]
    return subprocess.run(command, input=stdin, capture_output=True, text=True, env=environ, timeout=60, check=False)


def song_file(folder: Path, text: str = SONG, name: str = "pier.toml") -> str:
    (folder / name).write_text(text, encoding="utf-8")
    return name


def set_file(folder: Path) -> str:
    song_file(folder)
    song_file(folder, SONG.replace("Pier Lights", "Second Ferry"), "ferry.toml")
    text = 'title = "Tuesday"\nbass = true\n[[songs]]\nfile = "pier.toml"\nkey = "D"\n[[songs]]\nfile = "ferry.toml"\n'
    (folder / "tuesday.toml").write_text(text, encoding="utf-8")
    return "tuesday.toml"


# chord


def test_a_chord_is_printed_with_its_degrees_and_names(run: Run) -> None:
    said = run("chord", "Dbmaj7")
    assert said.out.split() == ["Dbmaj7", "1", "Db", "3", "F", "5", "Ab", "7", "C"]
    assert (said.code, said.err) == (0, "")


def test_the_json_of_a_chord_keeps_its_contract(run: Run) -> None:
    answer = json.loads(run("chord", "Dbmaj7", "--json").out)
    expected: dict[str, Any] = {"symbol": "Dbmaj7", "root": "Db", "bass": "Db", "reading": None, "error": None}
    assert {name: answer[name] for name in expected} == expected
    assert answer["tones"][3] == {"degree": "7", "name": "C", "pc": 0}


def test_several_chords_give_one_json_object_a_line(run: Run) -> None:
    lines = run("chord", "Dm7", "G7", "--json").out.splitlines()
    assert [json.loads(line)["symbol"] for line in lines] == ["Dm7", "G7"]


def test_an_unreadable_symbol_leaves_the_others_read_and_exits_1(run: Run) -> None:
    said = run("chord", "Dm7", "Hxq9", "G7")
    assert [line.split()[0] for line in said.out.splitlines()] == ["Dm7", "G7"]
    assert said.err.startswith("Hxq9: column ")
    assert said.code == 1


def test_an_unreadable_symbol_in_json_has_a_column_and_a_hint(run: Run) -> None:
    said = run("chord", "Hxq9", "--json")
    answer = json.loads(said.out)
    assert set(answer["error"]) >= {"column", "hint"}
    assert (answer["root"], answer["tones"], said.err, said.code) == (None, None, "", 1)


def test_a_slash_bass_is_named(run: Run) -> None:
    assert "over E" in run("chord", "C/E").out


def test_symbols_are_read_one_a_line_from_standard_input() -> None:
    said = piped("chord", "-", "--json", stdin="\ufeffDm7\r\n\nG7\n", PYTHONIOENCODING="utf-8")
    assert [json.loads(line)["symbol"] for line in said.stdout.splitlines()] == ["Dm7", "G7"]


def test_a_terminal_of_plain_ascii_ends_nothing() -> None:
    said = piped("chord", "D\u266dmaj7", PYTHONIOENCODING="ascii", LC_ALL="C", PYTHONUTF8="0")
    assert "Traceback" not in said.stderr
    assert said.returncode in (0, 1)


def test_a_reader_that_stops_early_is_no_fault() -> None:
    command = f"{sys.executable} -m tui chord - --json; echo $? >&2"
    child = subprocess.Popen(
        ["sh", "-c", command], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert child.stdout is not None
    child.stdout.close()
    _, err = child.communicate(b"Dm7\n" * 50, timeout=60)
    assert err.decode().strip() == "0"


# wrong use


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (["chord"], "symbol... is missing"),
        (["chord", "Dm7", "--jsn"], "did you mean --json?"),
        (["chord", "Dm7", "--key", "Q"], "no key"),
        (["chrod", "Dm7"], "did you mean chord?"),
        (["plan"], "--chart"),
        (["plan", "x.toml", "--chart", "| C |"], "--chart"),
        (["plan", "x.toml", "--meter", "3/4"], "--meter"),
        (["plan", "--chart", "| C |", "--meter", "3/5"], "no meter"),
        (["plan", "--chart", "| C |", "--method", "shel"], "shell"),
        (["plan", "--chart", "| C |", "--reach", "20"], "reach"),
        (["plan", "--chart", "| C |", "--reach", "wide"], "reach"),
        (["plan", "--chart", "| C |", "--song", "2"], "--song"),
        (["--song", "0"], "song"),
        ([], "needs a terminal"),
        (["any.toml"], "needs a terminal"),
        (["check"], "file... is missing"),
        (["export", "x.toml"], "--to out is missing"),
        (["plan", "--hands"], "--hands needs a word"),
        (["plan", "--chart", "| C |", "--hands", "feet"], "--hands: feet is none of both, left, right"),
        (["ports", "all"], "all: more than the command takes"),
    ],
)
def test_wrong_use_is_two_lines_and_exit_2(run: Run, arguments: list[str], word: str) -> None:
    said = run(*arguments)
    assert said.code == 2
    assert said.out == ""
    assert word in said.err.lower()
    assert len(said.err.splitlines()) == 2


@pytest.mark.parametrize("command", [[], ["chord"], ["plan"], ["check"], ["ports"]])
def test_every_command_has_help(run: Run, command: list[str]) -> None:
    said = run(*command, "--help")
    assert said.code == 0
    assert said.out.startswith("Usage: stillhand")


def test_the_version_is_said(run: Run) -> None:
    assert run("--version").out.startswith("stillhand")


# plan


def test_a_typed_chart_is_planned(run: Run) -> None:
    answer = json.loads(run("plan", "--chart", "| Dm7 | G7 | Cmaj7 | % |", "--json").out)
    (song,) = answer["songs"]
    assert [step["symbol"] for step in song["steps"]][:3] == ["Dm7", "G7", "Cmaj7"]
    assert (song["key"], song["meter"], song["tempo"]) == ("C", "4/4", 120)


def test_the_steps_of_a_plan_add_up_to_its_effort(run: Run) -> None:
    (song,) = json.loads(run("plan", "--chart", "| Dm7 | G7 | Cmaj7 | A7 |", "--json").out)["songs"]
    assert sum(step["effort"] for step in song["steps"]) == pytest.approx(song["effort"])
    assert song["optimum"]["value"] == song["effort"]


def test_a_planned_step_keeps_its_contract(run: Run) -> None:
    (song,) = json.loads(run("plan", "--chart", "| Dm7 | G7 |", "--json").out)["songs"]
    step = song["steps"][1]
    assert set(step) >= {
        "index", "section", "pass", "bar", "beat", "beats", "symbol", "method", "left", "right", "lifted", "effort",
        "terms", "warnings",
    }  # fmt: skip
    for note in step["left"] + step["right"]:
        assert set(note) >= {"midi", "name", "degree", "finger", "move", "from"}
        assert note["move"] in ("hold", "press", "slide", "refinger")


def test_the_plan_as_text_fits_80_columns(run: Run) -> None:
    said = run("plan", "--chart", "| Dm7 Fmaj7 | G7#5b9 | Cmaj7/E | % |")
    assert said.code == 0
    assert max(len(line) for line in said.out.splitlines()) <= 80
    assert "Dm7" in said.out
    assert "effort" in said.out


def test_a_song_is_transposed_when_a_key_is_asked(run: Run, tmp_path: Path) -> None:
    (song,) = json.loads(run("plan", song_file(tmp_path), "--key", "Eb", "--json").out)["songs"]
    assert (song["key"], song["steps"][0]["symbol"]) == ("Eb", "Fm7")


def test_tonights_key_of_the_set_is_planned(run: Run, tmp_path: Path) -> None:
    songs = json.loads(run("plan", set_file(tmp_path), "--json").out)["songs"]
    assert [(song["title"], song["key"]) for song in songs] == [("Pier Lights", "D"), ("Second Ferry", "C")]


def test_one_song_of_a_set_can_be_asked_for(run: Run, tmp_path: Path) -> None:
    songs = json.loads(run("plan", set_file(tmp_path), "--song", "2", "--json").out)["songs"]
    assert [song["title"] for song in songs] == ["Second Ferry"]


def test_a_song_the_set_does_not_have_is_wrong_use(run: Run, tmp_path: Path) -> None:
    said = run("plan", set_file(tmp_path), "--song", "3")
    assert (said.code, said.out) == (2, "")
    assert "has 2" in said.err


def test_songs_count_as_the_set_is_written_and_one_that_is_gone_is_named(run: Run, tmp_path: Path) -> None:
    name = set_file(tmp_path)
    text = (tmp_path / name).read_text()
    (tmp_path / name).write_text(text.replace("[[songs]]", '[[songs]]\nfile = "gone.toml"\n[[songs]]', 1))
    songs = json.loads(run("plan", name, "--song", "2", "--json").out)["songs"]
    assert [song["title"] for song in songs] == ["Pier Lights"]
    said = run("plan", name, "--song", "1")
    assert said.code == 2
    assert said.err.startswith("stillhand: song 1 does not open: gone.toml: there is no such file")


def test_one_hand_leaves_the_other_free(run: Run) -> None:
    (song,) = json.loads(run("plan", "--chart", "| Dm7 | G7 |", "--hands", "left", "--json").out)["songs"]
    assert all(step["left"] and not step["right"] for step in song["steps"])


@pytest.mark.parametrize("name", ["nowhere.toml", ".", "noise.toml"])
def test_what_is_no_song_is_said_in_a_line_or_two(run: Run, tmp_path: Path, name: str) -> None:
    (tmp_path / "noise.toml").write_bytes(bytes(range(256)))
    said = run("plan", name)
    assert (said.code, said.out) == (1, "")
    assert 1 <= len(said.err.splitlines()) <= 2


# check


def test_a_file_without_faults_says_so(run: Run, tmp_path: Path) -> None:
    said = run("check", song_file(tmp_path))
    assert (said.code, said.out) == (0, "pier.toml: no faults\n")


def test_a_fault_is_a_file_a_line_and_a_column(run: Run, tmp_path: Path) -> None:
    said = run("check", song_file(tmp_path, FAULTY))
    file, line, column, what = said.out.split("\n")[0].split(":", 3)
    assert (Path(file).name, line, column) == ("pier.toml", "9", "9")
    assert "Gxyz" in what
    assert said.code == 1


def test_a_caret_stands_under_the_column_of_a_fault(run: Run, tmp_path: Path) -> None:
    line, caret = run("check", song_file(tmp_path, FAULTY)).out.splitlines()[1:3]
    assert line[caret.index("^") :].startswith("Gxyz")


def test_every_file_is_checked_though_the_first_has_faults(run: Run, tmp_path: Path) -> None:
    said = run("check", song_file(tmp_path, FAULTY), song_file(tmp_path, name="good.toml"), "nowhere.toml")
    assert "good.toml: no faults" in said.out.splitlines()
    assert "nowhere.toml:1:1: " in said.out
    assert said.code == 1


def test_a_fault_in_a_song_of_a_set_is_found_through_the_set(run: Run, tmp_path: Path) -> None:
    name = set_file(tmp_path)
    song_file(tmp_path, FAULTY, "ferry.toml")
    said = run("check", name)
    assert "ferry.toml:9:9: " in said.out
    assert said.code == 1


def test_faults_are_told_to_programs_too(run: Run, tmp_path: Path) -> None:
    (report,) = json.loads(run("check", song_file(tmp_path, FAULTY), "--json").out)["files"]
    (fault,) = report["faults"]
    assert (fault["line"], fault["column"]) == (9, 9)


# ports


def test_ports_are_listed_or_their_absence_explained(run: Run) -> None:
    said = run("ports")
    assert said.code == 0
    assert said.out or said.err


def test_ports_in_json_are_two_lists_and_a_trouble(run: Run) -> None:
    answer = json.loads(run("ports", "--json").out)
    assert isinstance(answer["outputs"], list)
    assert bool(answer["outputs"]) != bool(answer["trouble"])


# how slips are answered


@pytest.mark.parametrize("command", [("chord", "C", "--key", "H"), ("drill", "--key", "H")])
def test_a_key_that_is_none_is_named_as_it_was_typed(run: Run, command: tuple[str, ...]) -> None:
    said = run(*command)
    assert said.code == 2
    assert "h is" not in said.err


def test_an_unreadable_symbol_is_shown_short_and_cannot_upset_the_terminal(run: Run) -> None:
    said = run("chord", "C\x1b[31m", "C" * 500)
    assert said.code == 1
    assert "\x1b" not in said.err
    assert max(map(len, said.err.splitlines())) < 80


def test_check_names_a_file_that_cannot_be_read_once(run: Run) -> None:
    said = run("check", "nowhere.toml")
    assert said.out.startswith("nowhere.toml:1:1: there is no such file")


def test_check_shows_where_a_set_names_a_song_that_is_gone(run: Run, tmp_path: Path) -> None:
    (tmp_path / set_file(tmp_path)).with_name("ferry.toml").unlink()
    said = run("check", "tuesday.toml")
    assert said.code == 1
    assert said.out.startswith("tuesday.toml:7:9: ferry.toml: there is no such file")


def test_a_song_file_is_not_imported_again(run: Run, tmp_path: Path) -> None:
    said = run("import", song_file(tmp_path))
    assert said.code == 2
    assert "is a song file already" in said.err


# what shells and newcomers ask


@pytest.mark.parametrize(
    ("words", "place", "offered"), [("stillhand pl", "1", "plan"), ("stillhand plan --me", "2", "--method")]
)
def test_a_shell_is_told_the_words_that_fit(words: str, place: str, offered: str) -> None:
    answer = piped(COMP_WORDS=words, COMP_CWORD=place, _STILLHAND_COMPLETE="bash_complete").stdout
    assert f"plain,{offered}" in answer.splitlines()


def test_help_shows_examples(run: Run) -> None:
    assert 'stillhand plan --chart "| Dm7 | G7 | C6 |"' in run("--help").out


def test_a_horn_in_no_horns_key_is_refused_before_anything_is_planned(run: Run, tmp_path: Path) -> None:
    said = run("keys", song_file(tmp_path), "--horns", "Bb,Q")
    assert (said.code, said.out) == (2, "")
    assert "Q is no horn's key" in said.err
