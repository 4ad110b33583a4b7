"""`stillhand new` asks five things and leaves a song that can be checked at once."""

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from engine.song.reader import read_song
from tui.cli.main import commands
from tui.persistence import store
from tui.persistence.store import StoreError


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def asked(*answers: str, name: str = "pier-lights") -> Result:
    return CliRunner().invoke(commands, ["new", name], input="".join(answer + "\n" for answer in answers))


def test_five_answers_make_a_song(folder: Path) -> None:
    said = asked("Pier Lights", "Ebm", "6/8", "60", "Intro, Verse 2 x2, Tag")
    assert said.exit_code == 0, said.output
    song = read_song((folder / "pier-lights.toml").read_text(encoding="utf-8"), "")
    assert (song.title, song.key, str(song.meter), song.tempo) == ("Pier Lights", "Ebm", "6/8", 60)
    assert song.roadmap == ("Intro", "Verse 2", "Verse 2", "Tag")
    assert song.doubts == ()


def test_empty_answers_take_what_is_offered(folder: Path) -> None:
    assert asked("", "", "", "", "").exit_code == 0
    assert read_song((folder / "pier-lights.toml").read_text(encoding="utf-8"), "").title == "Pier Lights"


def test_an_answer_that_cannot_be_read_is_asked_again() -> None:
    said = asked("A", "Q", "C", "4/5", "4/4", "900", "fast", "90", ",", "A")
    assert said.exit_code == 0
    for words in (
        "Q is no key, write",
        "4/5 is no meter, write",
        "900 is no tempo",
        "fast is no tempo",
        "commas between",
    ):
        assert words in said.output


def test_a_key_may_be_answered_in_small_letters(folder: Path) -> None:
    assert asked("A", "bbm", "4/4", "90", "A").exit_code == 0
    assert 'key     = "Bbm"' in (folder / "pier-lights.toml").read_text(encoding="utf-8")


def test_a_missing_folder_is_made_and_named(folder: Path) -> None:
    said = asked("", "", "", "", "", name="tunes/pier")
    assert said.exit_code == 0
    assert "tunes is a new folder." in said.output
    assert (folder / "tunes" / "pier.toml").is_file()


def test_a_song_that_is_there_is_not_written_over(folder: Path) -> None:
    (folder / "pier-lights.toml").write_text("mine", encoding="utf-8")
    said = asked("", "", "", "", "")
    assert said.exit_code == 2
    assert (folder / "pier-lights.toml").read_text(encoding="utf-8") == "mine"


def test_an_interrupted_answer_writes_nothing(folder: Path) -> None:
    said = asked("Pier")
    assert said.exit_code == 1
    assert list(folder.iterdir()) == []


def test_bars_typed_for_the_roadmap_are_not_taken_for_a_section(folder: Path) -> None:
    said = asked("Pier", "C", "4/4", "90", "| C | F |", "Verse, Bridge")
    assert said.exit_code == 0
    assert "the names of the sections only" in said.output
    assert read_song((folder / "pier-lights.toml").read_text(encoding="utf-8"), "").roadmap == ("Verse", "Bridge")


def set_of(*names: str) -> Result:
    return CliRunner().invoke(commands, ["new", *names], standalone_mode=False)


def test_songs_after_the_name_make_a_set_of_them_in_their_order(folder: Path) -> None:
    for name in ("songs/waltz", "songs/ballad"):
        assert asked("", "", "", "", "", name=name).exit_code == 0
    said = set_of("sets/friday-night", "songs/waltz.toml", "songs/ballad.toml")
    assert said.exit_code == 0, said.output
    found = store.open_set(folder / "sets" / "friday-night.toml")
    assert (found.title, found.missing) == ("Friday Night", ())
    assert [place.song.title for place in found.songs] == ["Waltz", "Ballad"]
    assert found.songs[0].file == "../songs/waltz.toml"


def test_a_set_with_a_song_that_does_not_open_is_not_written(folder: Path) -> None:
    said = set_of("friday", "gone.toml")
    assert isinstance(said.exception, StoreError)
    assert list(folder.iterdir()) == []
