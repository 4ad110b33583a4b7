"""`stillhand check` as a person or another program meets it."""

import json
from pathlib import Path

from tests.tui.commands import SONG, Run, set_file, song_file

FAULTY = SONG.replace("| Dm7 | G7 ", "| Dm7 | Gxyz ")


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


def test_a_tune_note_held_against_its_chord_is_advice_at_the_bar(run: Run, tmp_path: Path) -> None:
    tuned = 'title = "Pier"\nkey = "C"\n[sections.A]\nbars = "| Cmaj7 | F |"\ntune = "c8 | c8 |"\n'
    said = run("check", song_file(tmp_path, tuned))
    assert "pier.toml:4:11: advice: Cmaj7: " in said.out
    assert said.code == 0
    told = json.loads(run("check", "--json", song_file(tmp_path, tuned)).out)["files"][0]["advice"]
    assert [(one["line"], one["symbol"]) for one in told] == [(4, "Cmaj7")]


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


def test_check_names_a_file_that_cannot_be_read_once(run: Run) -> None:
    said = run("check", "nowhere.toml")
    assert said.out.startswith("nowhere.toml:1:1: there is no such file")


def test_check_shows_where_a_set_names_a_song_that_is_gone(run: Run, tmp_path: Path) -> None:
    (tmp_path / set_file(tmp_path)).with_name("ferry.toml").unlink()
    said = run("check", "tuesday.toml")
    assert said.code == 1
    assert said.out.startswith("tuesday.toml:7:9: ferry.toml: there is no such file")


def test_the_players_own_settings_are_checked_too(run: Run, tmp_path: Path) -> None:
    (tmp_path / "player.toml").write_text('theme = "dark"\npedal = "cc 64"\n')
    said = run("check", "player.toml")
    assert said.code == 1
    assert said.out.startswith("player.toml:2:9: pedal: ")


def test_a_song_of_a_name_that_no_file_can_have_is_a_fault_of_the_set(run: Run, tmp_path: Path) -> None:
    (tmp_path / "set.toml").write_text(f'title = "S"\n[[songs]]\nfile = "{"n" * 300}.toml"\n')
    said = run("check", "set.toml")
    assert (said.code, said.err) == (1, "")
    assert said.out.startswith("set.toml:3:9: nnn")
