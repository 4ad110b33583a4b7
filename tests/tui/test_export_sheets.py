from pathlib import Path

import pytest

from engine.formats.musicxml_in.reader import song_from_musicxml
from engine.song.reader import read_song
from engine.song.unfolding import unfold
from tests.tui.commands import ran

SETLISTS = Path(__file__).parents[2] / "setlists"
SONG = SETLISTS / "songs" / "low-tide-lantern.toml"
SET = SETLISTS / "harbour-room.toml"


@pytest.fixture
def two(tmp_path: Path) -> Path:
    """A set of the same song twice."""
    path = tmp_path / "two.toml"
    path.write_text('title = "Two"\n' + 2 * f'[[songs]]\nfile = "{SONG}"\n', encoding="utf-8")
    return path


def run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str]:
    code, _, errors = ran(capsys, "export", *words)
    return code, errors


@pytest.mark.parametrize(
    ("name", "start"),
    [
        ("a.pdf", b"%PDF"),
        ("a.txt", b"LOW TIDE LANTERN"),
        ("a.musicxml", b"<?xml"),
        ("a.mid", b"MThd"),
        ("a.xml", b"<?xml"),
        ("a.midi", b"MThd"),
    ],
)
def test_a_song_is_written_in_every_form(tmp_path, capsys, name, start):
    assert run(capsys, SONG, "--to", tmp_path / name) == (0, "")
    assert (tmp_path / name).read_bytes().startswith(start)


def test_a_set_is_its_list_and_a_page_a_song(tmp_path, capsys):
    pypdf = pytest.importorskip("pypdf")
    assert run(capsys, SET, "--to", tmp_path / "sub.pdf", "--paper", "letter") == (0, "")
    assert len(pypdf.PdfReader(tmp_path / "sub.pdf").pages) == 13


def test_the_list_alone_is_one_page(tmp_path, capsys):
    assert run(capsys, SET, "--to", tmp_path / "floor.txt", "--list") == (0, "")
    text = (tmp_path / "floor.txt").read_text(encoding="utf-8")
    assert "\f" not in text
    assert "Ropewalk" in text


def test_a_horn_gets_its_written_pitch(tmp_path, capsys):
    assert run(capsys, SONG, "--to", tmp_path / "tenor.txt", "--for", "Bb") == (0, "")
    text = (tmp_path / "tenor.txt").read_text(encoding="utf-8")
    assert "key F (written for Bb)" in text
    assert "Hardest shifts" not in text


@pytest.mark.parametrize("option", [("--for", "Eb"), ("--list",)])
def test_what_is_not_for_every_ending_says_which_it_goes_with(tmp_path, capsys, option):
    code, said = run(capsys, SONG, "--to", tmp_path / "a.mid", *option)
    assert (code, (tmp_path / "a.mid").exists()) == (2, False)
    assert ".pdf" in said


@pytest.mark.parametrize("ending", [".wav", ".abc"])
def test_sound_and_tunes_are_one_song_each(tmp_path, capsys, ending):
    code, said = run(capsys, SET, "--to", tmp_path / f"all{ending}")
    assert code == 2
    assert "--song N" in said


@pytest.mark.parametrize("ending", [".musicxml", ".xml", ".mxl"])
def test_a_sets_grand_staves_are_one_file(two, tmp_path, capsys, ending):
    assert run(capsys, two, "--to", tmp_path / f"all{ending}") == (0, "")
    found = song_from_musicxml((tmp_path / f"all{ending}").read_bytes()).song
    song = read_song(SONG.read_text(encoding="utf-8"), "")
    assert (found.title, len(unfold(found))) == ("Two", 2 * len(unfold(song)))


@pytest.mark.parametrize("ending", [".musicxml", ".mxl"])
def test_a_horn_gets_a_chart_that_a_notation_program_opens(two, tmp_path, capsys, ending):
    assert run(capsys, two, "--to", tmp_path / f"tenor{ending}", "--for", "Bb") == (0, "")
    assert song_from_musicxml((tmp_path / f"tenor{ending}").read_bytes()).song.key == "Eb"
    assert run(capsys, SONG, "--to", tmp_path / f"one{ending}", "--for", "Bb") == (0, "")
    assert song_from_musicxml((tmp_path / f"one{ending}").read_bytes()).song.title == "Low Tide Lantern"


def test_a_folder_that_cannot_be_made_is_one_line_and_leaves_nothing(tmp_path, capsys):
    (tmp_path / "none").write_text("a file", encoding="utf-8")
    code, said = run(capsys, SONG, "--to", tmp_path / "none" / "a.pdf")
    assert code == 1
    assert len(said.splitlines()) == 1
    assert [path.name for path in tmp_path.iterdir()] == ["none"]


def test_songs_that_did_not_open_are_named(tmp_path, capsys):
    (tmp_path / "set.toml").write_text(f'title = "Half"\n[[songs]]\nfile = "{SONG}"\n[[songs]]\nfile = "gone.toml"\n')
    code, said = run(capsys, tmp_path / "set.toml", "--to", tmp_path / "half.txt")
    assert code == 1
    assert "gone.toml" in said
    assert (tmp_path / "half.txt").exists()


def test_a_song_that_no_hand_can_play_is_named_and_the_others_are_printed(tmp_path, capsys, monkeypatch):
    from engine.errors import NoGrip
    from tui.planning import pool

    def planned(jobs, workers=None):
        plans = [pool.plan_one(job) for job in jobs[:1]]
        return [*plans, *(NoGrip("C13", "Verse, bar 1", "set a wider reach") for _ in jobs[1:])]

    monkeypatch.setattr(pool, "plan_all", planned)
    two = "".join(f'[[songs]]\nfile = "{SONG}"\n' for _ in range(2))
    (tmp_path / "set.toml").write_text(f'title = "Two"\n{two}')
    code, said = run(capsys, tmp_path / "set.toml", "--to", tmp_path / "two.txt")
    assert code == 1
    assert "wider reach" in said
    assert (tmp_path / "two.txt").read_text(encoding="utf-8").count("\f") == 2


def test_letters_that_the_typeface_lacks_are_said_and_the_page_is_printed(tmp_path, capsys):
    song = tmp_path / "sea.toml"
    song.write_text(SONG.read_text(encoding="utf-8").replace("Low Tide Lantern", "Low Tide 海"), encoding="utf-8")
    code, said = run(capsys, song, "--to", tmp_path / "sea.pdf")
    assert (code, said) == (0, "Low Tide 海: no letters to print for 海, shown as ▫.\n")
    assert (tmp_path / "sea.pdf").read_bytes().startswith(b"%PDF")
