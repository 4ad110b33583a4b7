"""`stillhand plan` as a person or another program meets it."""

import json
from pathlib import Path

import pytest

from tests.tui.commands import Run, set_file, song_file


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


def test_what_is_wrong_with_the_players_own_settings_is_said_once(run: Run, tmp_path: Path) -> None:
    from tui.persistence.folders import config_folder

    config_folder().mkdir(parents=True, exist_ok=True)
    (config_folder() / "player.toml").write_text('reach = "a tent"\n')
    name = str(tmp_path / song_file(tmp_path))
    said = run("plan", name, name)
    assert said.code == 0
    assert said.err.count("player.toml: line 1, column 9: no reach: 'a tent'") == 1
