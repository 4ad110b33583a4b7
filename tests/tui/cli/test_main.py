"""What all commands share: how wrong use is answered, help, the version, the words a shell offers."""

import json

import pytest

from tests.tui.commands import Run, piped


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


def test_ports_are_listed_or_their_absence_explained(run: Run) -> None:
    said = run("ports")
    assert said.code == 0
    assert said.out or said.err


def test_ports_in_json_are_two_lists_and_a_trouble(run: Run) -> None:
    answer = json.loads(run("ports", "--json").out)
    assert isinstance(answer["outputs"], list)
    assert bool(answer["outputs"]) != bool(answer["trouble"])


@pytest.mark.parametrize("command", [("chord", "C", "--key", "H"), ("drill", "--key", "H")])
def test_a_key_that_is_none_is_named_as_it_was_typed(run: Run, command: tuple[str, ...]) -> None:
    said = run(*command)
    assert said.code == 2
    assert "h is" not in said.err


@pytest.mark.parametrize(
    ("words", "place", "offered"), [("stillhand pl", "1", "plan"), ("stillhand plan --me", "2", "--method")]
)
def test_a_shell_is_told_the_words_that_fit(words: str, place: str, offered: str) -> None:
    answer = piped(COMP_WORDS=words, COMP_CWORD=place, _STILLHAND_COMPLETE="bash_complete").stdout
    assert f"plain,{offered}" in answer.splitlines()


def test_help_shows_examples(run: Run) -> None:
    assert 'stillhand plan --chart "| Dm7 | G7 | C6 |"' in run("--help").out
