"""Nothing that a file or a command line says steers the terminal it is shown on."""

import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.tui.commands import Run, song_file
from tests.tui.sets_in_files import put
from tui.cli.visible import visible

STEERING = "\x1b]0;x\x07\x85\u202e\x9b31m"
"""A window title by OSC, a bell, next line, right-to-left override, CSI as one character. Source: ECMA-48."""


@given(st.text(st.characters(codec="utf-8")))
def test_visible_text_has_nothing_that_steers(text: str) -> None:
    shown = visible(text)
    assert all(char in "\n\t" or unicodedata.category(char) not in ("Cc", "Cf", "Cs", "Zl", "Zp") for char in shown)


@given(st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "S"])))
def test_text_that_steers_nothing_stays(text: str) -> None:
    assert visible(text) == text


def test_an_escape_is_shown_as_it_is_written_in_programs() -> None:
    assert visible("A\x1b[31m\u202e") == "A\\x1b[31m\\u202e"


@pytest.mark.parametrize(
    "words",
    [
        ("chord", STEERING), ("chord", "--key", STEERING, "C"), ("check", STEERING), ("plan", STEERING), (STEERING,),
        ("new", "a.toml", STEERING), ("plan", "--chart", f"| C{STEERING} |"), ("import", STEERING), ("--" + STEERING,),
        ("plan", "a.toml", "--reach", STEERING), ("plan", "a.toml", "--method", STEERING),
    ],
)  # fmt: skip
def test_no_command_sends_what_it_was_given_to_the_terminal_as_it_is(
    run: Run, words: tuple[str, ...], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    said = run(*words)
    assert said.code != 0
    assert not any(sign in said.out + said.err for sign in "\x1b\x07\x85\u202e\x9b")


@pytest.mark.parametrize("name", ["title", "key", "meter", "roadmap", "tempo", "feel", "count", "style"])
def test_a_received_file_steers_nothing(run: Run, tmp_path: Path, name: str) -> None:
    put(tmp_path, "x.toml", f'{name} = "\\u001b]0;x\\u0007\\u0085\\u202e"\n[sections.A]\nbars = "| C\\u001b |"\n')
    for command in ("check", "plan"):
        said = run(command, str(tmp_path / "x.toml"))
        assert said.code == 1
        assert not any(sign in said.out + said.err for sign in "\x1b\x07\x85\u202e")


def test_a_set_shows_no_line_of_a_file_that_is_no_song(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "private.txt", "a word of mine\n")
    put(tmp_path, "set.toml", 'title = "A"\n[[songs]]\nfile = "private.txt"\n')
    said = run("check", str(tmp_path / "set.toml"))
    assert said.code == 1
    assert "word of mine" not in said.out


def test_the_plans_of_the_other_files_are_printed_though_one_has_faults(run: Run, tmp_path: Path) -> None:
    good = str(tmp_path / song_file(tmp_path))
    put(tmp_path, "bad.toml", "title = 3\n")
    said = run("plan", "--json", good, str(tmp_path / "bad.toml"), str(tmp_path / "gone.toml"))
    assert said.code == 1
    assert said.out.startswith("{")
    assert "bad.toml" in said.err
    assert "gone.toml" in said.err


@pytest.mark.parametrize("name", ["tempo", "[sections.B]\npickup", "minor_tonic", "count", "[[pins]]\nbar"])
@pytest.mark.parametrize("number", ["1" * 400, "0x" + "f" * 4000, "1" * 5000])
def test_a_number_without_end_is_a_fault_of_the_file(run: Run, tmp_path: Path, name: str, number: str) -> None:
    head = 'title = "A"\nkey = "C"\nmeter = "4/4"\n'
    put(tmp_path, "x.toml", f'{head}{name} = {number}\n[sections.A]\nbars = "| C |"\n')
    said = run("check", str(tmp_path / "x.toml"))
    assert said.code == 1
    assert "x.toml:" in said.out
    assert "fault of ours" not in said.out + said.err


def test_a_name_longer_than_a_page_is_wide_is_said_at_its_line(run: Run, tmp_path: Path) -> None:
    long = "la " * 400
    head = f'title = "{long}"\nkey = "C"\nmeter = "4/4"\n'
    put(tmp_path, "x.toml", f'{head}roadmap = "A"\n[sections.A]\nbars = "| C |"\n[sections."{long}"]\nbars = "| C |"\n')
    said = run("check", str(tmp_path / "x.toml"))
    assert "x.toml:1:9: title has 1200 characters" in said.out
    assert "x.toml:7:" in said.out


def test_a_fault_of_ours_leaves_a_report_and_no_traceback(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("a string broke")

    monkeypatch.setattr("engine.chord.report.chord_json", broken)
    said = run("chord", "C")
    assert said.code == 1
    assert "report lies in" in said.err
    assert "Traceback" not in said.err
