import io
import wave
from pathlib import Path

import mido
import pytest

from tests.tui.commands import ran
from tui.cli.export import WRITERS

SONG = """
title = "Lock Gate"
key = "Eb"
meter = "4/4"
tempo = 97.3
roadmap = "Verse x2, Tag"

[sections.Verse]
bars = "| Ebmaj7 | Fm7 Bb7 |"

[sections.Tag]
bars = "| Eb6 |"
"""


def run(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    return ran(capsys, "export", *words)


@pytest.fixture
def song(tmp_path: Path) -> Path:
    path = tmp_path / "lock-gate.toml"
    path.write_text(SONG)
    return path


def test_a_song_becomes_a_midi_file_with_its_sections_and_chords(song: Path, capsys: pytest.CaptureFixture[str]):
    out = song.with_suffix(".mid")
    assert run(capsys, str(song), "--to", str(out))[0] == 0
    file = mido.MidiFile(file=io.BytesIO(out.read_bytes()))
    texts = [message.text for track in file.tracks for message in track if message.type in ("marker", "lyrics")]
    assert texts[:3] == ["Verse 1 of 2", "Verse 2 of 2", "Tag"]
    assert "Bb7" in texts
    assert file.length == pytest.approx(5 * 4 * 60 / 97.3, abs=0.01)


def test_markers_count_the_passes_that_follow_one_another_as_the_stand_does(
    song: Path, capsys: pytest.CaptureFixture[str]
):
    song.write_text(SONG.replace("Verse x2, Tag", "Verse x2, Tag, Verse"))
    out = song.with_suffix(".mid")
    assert run(capsys, str(song), "--to", str(out))[0] == 0
    markers = [message.text for message in mido.MidiFile(out).tracks[0] if message.type == "marker"]
    assert markers == ["Verse 1 of 2", "Verse 2 of 2", "Tag", "Verse"]


def test_the_key_and_a_count_can_be_asked_for(song: Path, capsys: pytest.CaptureFixture[str]):
    out = song.with_suffix(".MID")
    assert run(capsys, str(song), "--to", str(out), "--key", "C", "--count")[0] == 0
    file = mido.MidiFile(out)
    assert [message.key for message in file.tracks[0] if message.type == "key_signature"] == ["C"]
    assert file.tracks[-1].name == "Count-in"


def test_a_file_that_exists_is_only_replaced_when_asked(song: Path, capsys: pytest.CaptureFixture[str]):
    out = song.with_suffix(".mid")
    out.write_text("mine")
    code, _, err = run(capsys, str(song), "--to", str(out))
    assert (code, out.read_text()) == (2, "mine")
    assert "--force" in err
    assert run(capsys, str(song), "--to", str(out), "--force")[0] == 0


def test_another_ending_is_refused_with_those_there_are(song: Path, capsys: pytest.CaptureFixture[str]):
    code, _, err = run(capsys, str(song), "--to", "out.aiff")
    assert code == 2
    assert all(ending in err for ending in WRITERS)


def test_a_folder_that_is_not_there_is_made_and_named(song: Path, capsys: pytest.CaptureFixture[str]):
    target = song.parent / "sheets" / "out.mid"
    code, out, err = run(capsys, str(song), "--to", str(target))
    assert (code, target.is_file()) == (0, True)
    assert (out, err) == (f"{target} is written.\n", f"{target.parent} is a new folder.\n")


def test_a_song_that_is_not_there_is_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    code, _, err = run(capsys, str(tmp_path / "none.toml"), "--to", str(tmp_path / "out.mid"))
    assert code != 0
    assert "Traceback" not in err


def test_a_packed_score_comes_back_as_the_same_chords(song: Path, capsys: pytest.CaptureFixture[str]):
    from engine.formats.musicxml_in.reader import song_from_musicxml
    from engine.song.reader import read_song
    from engine.song.unfolding import unfold

    out = song.with_suffix(".mxl")
    assert run(capsys, str(song), "--to", str(out))[0] == 0
    steps = [unfold(one) for one in (song_from_musicxml(out.read_bytes()).song, read_song(SONG, ""))]
    assert [step.symbol for step in steps[0]] == [step.symbol for step in steps[1]]


def test_a_folder_that_cannot_be_made_is_one_line(song: Path, capsys: pytest.CaptureFixture[str]):
    code, _, errors = run(capsys, str(song), "--to", str(song / "lock-gate.txt"))
    assert code == 1
    assert f"the folder {song} cannot be made" in errors
    assert len(errors.splitlines()) == 1


def test_a_song_becomes_a_sound_file_with_its_count(song: Path, capsys: pytest.CaptureFixture[str]):
    lengths = []
    for number, words in enumerate(([], ["--count"], ["--click"])):
        out = song.with_name(f"{number}.wav")
        assert run(capsys, str(song), "--to", str(out), *words)[0] == 0
        with wave.open(str(out)) as file:
            lengths.append(file.getnframes() / file.getframerate())
    bar = 4 * 60 / 97.3
    assert lengths == pytest.approx([5 * bar + 0.5, 6 * bar + 0.5, 5 * bar + 0.5], abs=0.001)


def test_a_rhythm_of_the_players_own_is_played_in_files(song: Path, capsys, monkeypatch, tmp_path: Path):
    monkeypatch.setenv("STILLHAND_HOME", str(tmp_path))
    song.write_text(SONG.replace("tempo = 97.3", 'tempo = 97.3\ncomp = "pier walk"'))

    def struck():
        out = song.with_suffix(".mid")
        _, _, err = run(capsys, str(song), "--to", str(out), "--force")
        track = next(track for track in mido.MidiFile(out).tracks if track.name == "Right hand")
        return sum(message.type == "note_on" for message in track), err

    held, _ = struck()
    (tmp_path / "rhythms.toml").write_text('["pier walk"]\nright = [[1, 1], [2, 1], [3, 1], [4, 1]]\n')
    assert struck()[0] > 3 * held
    (tmp_path / "rhythms.toml").write_text('["pier walk"]\nright = [[0, 1]]\n')
    count, err = struck()
    assert count == held
    assert "rhythms.toml:2:10" in err


def test_a_song_becomes_an_abc_file_that_comes_back_as_the_same_chords(song: Path, capsys: pytest.CaptureFixture[str]):
    out = song.with_suffix(".abc")
    assert run(capsys, str(song), "--to", str(out))[0] == 0
    back = song.with_name("back.toml")
    assert ran(capsys, "import", str(out), "--to", str(back))[0] == 0
    assert "| Ebmaj7 | Fm7 Bb7 |" in back.read_text()


def test_a_set_becomes_one_midi_file_of_all_its_songs(song: Path, capsys: pytest.CaptureFixture[str]):
    own = song.with_name("evening.toml")
    own.write_text(f'title = "Evening"\n[[songs]]\nfile = "{song.name}"\n[[songs]]\nfile = "{song.name}"\nkey = "C"\n')
    out = song.with_name("evening.mid")
    assert run(capsys, str(own), "--to", str(out), "--count")[0] == 0
    first, *others = mido.MidiFile(out).tracks
    assert [track.name for track in (first, *others)] == ["Evening", "Chords", "Right hand", "Left hand", "Count-in"]
    assert [message.text for message in first if message.type == "marker"].count("Lock Gate") == 2
    assert [message.key for message in first if message.type == "key_signature"] == ["Eb", "C"]
