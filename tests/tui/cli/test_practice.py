import json
from datetime import datetime
from pathlib import Path

import pytest

from engine.practice.log import Try
from tests.tui.commands import ran
from tui.persistence import practice_log

SONG = """
title = "Ropewalk"
key = "C"
meter = "4/4"
tempo = 200
[sections.A]
bars = "||: Dm7 G7 | Cmaj7 | N.C. :||"
"""


@pytest.fixture
def song(tmp_path: Path) -> Path:
    path = tmp_path / "ropewalk.toml"
    path.write_text(SONG)
    return path


def test_the_hardest_shifts_are_printed(capsys: pytest.CaptureFixture[str], song: Path) -> None:
    code, out, _ = ran(capsys, "shifts", str(song))
    assert code == 0
    assert out.startswith("Ropewalk: the hardest shifts")
    assert "Dm7 > G7" in out
    assert "met 2 times" in out


def test_the_hardest_shifts_as_json(capsys: pytest.CaptureFixture[str], song: Path) -> None:
    code, out, _ = ran(capsys, "shifts", str(song), "--json")
    value = json.loads(out)
    assert code == 0
    assert value["title"] == "Ropewalk"
    assert value["shifts"][0]["rank"] == 1


def test_minutes_give_a_plan_for_tonight(capsys: pytest.CaptureFixture[str], song: Path) -> None:
    _, out, _ = ran(capsys, "shifts", str(song), "--minutes", "12")
    assert "Tonight, 12 minutes:" in out
    value = json.loads(ran(capsys, "shifts", str(song), "--minutes", "12", "--json")[1])
    assert [turn["minutes"] for turn in value["tonight"]["turns"]] == [3.0] * 4


def test_what_the_log_knows_is_printed_and_its_broken_lines_are_said(
    capsys: pytest.CaptureFixture[str], song: Path, tmp_path: Path
) -> None:
    sign = json.loads(ran(capsys, "shifts", str(song), "--json")[1])["shifts"][0]["sign"]
    practice_log.add(Try(datetime(2026, 3, 2, 20, 30), sign, 92.0, True))
    with practice_log.log_path().open("a") as file:
        file.write("scribbled\n")
    code, out, err = ran(capsys, "shifts", str(song))
    assert code == 0
    assert "best clean 92 in 1 try, last on 2026-03-02" in out
    assert "practice log, line 2" in err


def test_a_set_with_a_missing_song_ranks_the_others_and_says_so(
    capsys: pytest.CaptureFixture[str], song: Path, tmp_path: Path
) -> None:
    set_file = tmp_path / "set.toml"
    set_file.write_text('title = "Two"\n[[songs]]\nfile = "ropewalk.toml"\n[[songs]]\nfile = "gone.toml"\n')
    code, out, err = ran(capsys, "shifts", str(set_file))
    assert code == 1
    assert "Dm7 > G7" in out
    assert "gone.toml" in err


def test_shifts_of_no_file_say_so(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, _, err = ran(capsys, "shifts", str(tmp_path / "none.toml"))
    assert code == 1
    assert "there is no such file" in err


def test_without_a_name_the_drills_are_listed(capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = ran(capsys, "drill")
    assert code == 0
    assert "two-five-one " in out
    assert "tonight" in out
    names = [one["name"] for one in json.loads(ran(capsys, "drill", "--json")[1])["drills"]]
    assert names[0] == "circle"


def test_a_drill_printed_is_a_song_that_checks(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    _, out, _ = ran(capsys, "drill", "rootless-a", "--key", "Eb")
    path = tmp_path / "drill.toml"
    path.write_text(out)
    assert ran(capsys, "check", str(path))[0] == 0


def test_a_drill_is_written_once_and_replaced_by_force(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    target = str(tmp_path / "circle.toml")
    assert ran(capsys, "drill", "circle", "--to", target)[0] == 0
    code, _, err = ran(capsys, "drill", "circle", "--to", target)
    assert code == 2
    assert "exists already" in err
    assert ran(capsys, "drill", "circle", "--to", target, "--force")[0] == 0
    assert ran(capsys, "plan", target)[0] == 0


def test_tonights_drill_wants_a_set(capsys: pytest.CaptureFixture[str], song: Path) -> None:
    assert ran(capsys, "drill", "tonight")[0] == 2
    code, out, _ = ran(capsys, "drill", "tonight", "--set", str(song))
    assert code == 0
    assert "| Dm7 | G7 | Cmaj7 | % |" in out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("circel",), "did you mean circle?"),
        (("circle", "--key", "H"), "no key"),
        (("circle", "--set", "x.toml"), "--set goes with the drill tonight"),
    ],
)
def test_wrong_use_is_said_in_words(capsys: pytest.CaptureFixture[str], arguments: tuple[str, ...], words: str) -> None:
    code, _, err = ran(capsys, "drill", *arguments)
    assert code == 2
    assert words in err


def test_a_drill_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    value = json.loads(ran(capsys, "drill", "spreads", "--key", "F", "--json")[1])
    assert (value["name"], value["key"]) == ("spreads", "F")
    assert "[sections" in value["toml"]


def test_a_drill_is_not_written_under_another_ending(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, _, err = ran(capsys, "drill", "circle", "--to", str(tmp_path / "circle.mid"))
    assert code == 2
    assert "does not end in .toml" in err


def test_the_hardest_shifts_are_printed_on_paper(
    capsys: pytest.CaptureFixture[str], song: Path, tmp_path: Path
) -> None:
    target = tmp_path / "practice.pdf"
    code, out, _ = ran(capsys, "shifts", str(song), "--minutes", "30", "--to", str(target))
    assert (code, out.strip()) == (0, f"{target} is written.")
    assert target.read_bytes().startswith(b"%PDF")
    assert ran(capsys, "shifts", str(song), "--to", str(target))[0] == 2
    assert ran(capsys, "shifts", str(song), "--to", str(tmp_path / "practice.txt"))[0] == 2
