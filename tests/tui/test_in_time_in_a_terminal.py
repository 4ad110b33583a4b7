"""The whole program in a terminal, with a MIDI library made of files: a song is played along and moves the stand."""

import os
import time
from pathlib import Path
from statistics import median

import pytest

from tests.tui.midi.heard import still_sounding
from tests.tui.midi.studio import PIANO, PRETENDED, sent
from tests.tui.terminal import ROOT, Terminal

SONG = """
title = "Four Doors"
key = "C"
meter = "4/4"
tempo = 320
count = "one bar"
[sections.Verse]
bars = "| Dm7 | G7 | Cmaj7 | Fmaj7 |"
[sections.Vamp]
until = "cue"
bars = "| Em7 | A7 |"
[sections.Tag]
bars = "| Dm7 |"
"""
BEAT = 60 / 320


@pytest.fixture
def studio(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    (tmp_path / "outputs").write_text(f"{PIANO}\n")
    (tmp_path / "inputs").write_text("Keys:Keys MIDI 1 24:0\n")
    (tmp_path / "song.toml").write_text(SONG)
    # The lines of the first start stand where the status is wanted.
    (tmp_path / "home").mkdir()
    (tmp_path / "home" / "session.json").write_text('{"more": {"toured": 99}}')
    return tmp_path


def stand(studio: Path) -> Terminal:
    path = os.pathsep.join((str(PRETENDED), str(ROOT)))
    song = str(studio / "song.toml")
    return Terminal(song, "--midi", "Piano", PYTHONPATH=path, PRETENDED_MIDI=str(studio))


def test_a_song_is_played_along_waits_in_its_vamp_and_ends_after_the_cue(studio: Path) -> None:
    with stand(studio) as terminal:
        terminal.wait_for("plays through Piano")
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("i")
        for place in ("Verse, bar 2 of 4", "Verse, bar 4 of 4", "Vamp, bar 1 of 2", "Vamp, bar 2 of 2"):
            terminal.wait_for(place, 10)
        terminal.wait_for("Vamp, bar 1 of 2", 10)
        terminal.press("c")
        terminal.wait_for("CUE GIVEN", 5)
        terminal.wait_for("Tag, bar 1", 10)
        terminal.wait_for("the last song of the set", 10)
        terminal.press("q")
        assert terminal.end() == 0
    messages = [data for _, data in sent(studio)]
    assert not still_sounding(messages)
    clicks = [at for at, data in sent(studio) if data[0] == 0x99 and data[2]]
    # The count, four bars, the vamp at least twice, the tag: a click on every beat.
    assert len(clicks) >= 4 * (1 + 4 + 4 + 1)
    late = [abs(at - clicks[0] - number * BEAT) for number, at in enumerate(clicks)]
    assert median(late) < 0.005


def test_stopped_in_the_middle_nothing_sounds_on(studio: Path) -> None:
    with stand(studio) as terminal:
        terminal.wait_for("plays through Piano")
        terminal.press("i")
        terminal.wait_for("Verse, bar 2 of 4", 15)
        terminal.press("i")
        terminal.wait_for("stopped", 5)
        time.sleep(0.2)
        before = sent(studio)
        assert not still_sounding(data for _, data in before)
        assert any(data[0] == 0x90 for _, data in before)
        time.sleep(2 * BEAT)
        # Active sensing (MIDI 1.0: 0xFE) says that we are there, and goes on.
        assert [one for one in sent(studio)[len(before) :] if one[1] != b"\xfe"] == []
        terminal.press("q")
        assert terminal.end() == 0


def test_a_pedal_and_played_chords_come_in(studio: Path) -> None:
    (studio / "home" / "player.toml").write_text('port_in = "Keys"\npedal = "control 64 channel 1"\n')
    with stand(studio) as terminal:
        terminal.wait_for("listens to Keys")
        with (studio / "in Keys:Keys MIDI 1 24:0").open("a") as file:
            file.write("b0407f\nb04000\n")
        terminal.wait_for("Verse, bar 2 of 4", 5)
        terminal.wait_for("lift")
        with (studio / "in Keys:Keys MIDI 1 24:0").open("a") as file:
            file.write("903d40\n")
        terminal.wait_for("wrong C#4", 5)
        terminal.press("q")
        assert terminal.end() == 0
