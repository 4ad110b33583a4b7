"""`stillhand chord` as a person or another program meets it."""

import json
import os
import subprocess
import sys
from typing import Any

from tests.tui.commands import ROOT, Run, piped


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


def test_an_unreadable_symbol_is_shown_short_and_cannot_upset_the_terminal(run: Run) -> None:
    said = run("chord", "C\x1b[31m", "C" * 500)
    assert said.code == 1
    assert "\x1b" not in said.err
    assert max(map(len, said.err.splitlines())) < 80
