"""Two whole programs in two terminals, joined by a real MIDI connection: one leads, the other follows (see rig.py)."""

import os
import time
from pathlib import Path

from tests.tui.midi.heard import still_sounding
from tests.tui.midi.rig import Rig
from tests.tui.terminal import Terminal
from tests.tui.waiting import until

SET = '[[songs]]\nfile = "doors.toml"\n[[songs]]\nfile = "lamps.toml"\n'
SONG = """
title = "{}"
key = "C"
meter = "4/4"
tempo = 240
count = "one bar"
[sections.Verse]
bars = "| Dm7 | G7 | Cmaj7 | Fmaj7 | Dm7 | G7 | Cmaj7 | % |"
"""


def stand(folder: Path, home: str, *options: str) -> Terminal:
    (folder / home).mkdir()
    # The lines of the first start stand where the status is wanted.
    (folder / home / "session.json").write_text('{"more": {"toured": 99}}')
    server = os.environ["JACK_DEFAULT_SERVER"]
    return Terminal(str(folder / "set.toml"), *options, STILLHAND_HOME=str(folder / home), JACK_DEFAULT_SERVER=server)


def test_a_follower_goes_through_the_song_with_its_leader(monitored: Rig, tmp_path: Path) -> None:
    (tmp_path / "set.toml").write_text(f'title = "Doors"\n{SET}')
    for name, title in (("doors", "Four Doors"), ("lamps", "Two Lamps")):
        (tmp_path / f"{name}.toml").write_text(SONG.format(title))
    with stand(tmp_path, "one", "--midi", "monitor", "--lead", "virtual:stage") as leader:
        leader.wait_for("leads on stage")
        with stand(tmp_path, "two", "--follow", "stage") as follower:
            follower.wait_for("follows stillhand leads:stage")
            leader.press("i")
            for bar in (3, 6, 8):
                follower.wait_for(f"Verse, bar {bar} of 8", 20)
            leader.wait_for("end of Four Doors", 10)
            leader.press(".")
            follower.wait_for("2/2  Two Lamps", 10)
            leader.press("  ")
            follower.wait_for("Verse, bar 3 of 8", 10)
            leader.press("q")
            assert leader.end() == 0
            follower.press("q")
            assert follower.end() == 0
    time.sleep(0.1)
    until(lambda: not still_sounding(monitored.heard()))
    assert sum(data[0] & 0xF0 == 0x90 for data in monitored.heard()) > 8 * 4
