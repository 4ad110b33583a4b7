"""Killed at any moment, pulled about and leaned on: what is kept stays whole, and the stand goes on.

Small counts run every time. By hand: STILLHAND_KILLS=200 STILLHAND_HELD=10000 python -m pytest tests/tui/test_faults.py
"""

import json
import os
import random
import select
import signal
import subprocess
import sys
import time
from datetime import datetime
from pathlib import Path

import pytest

from engine.practice.log import Try
from tests.tui.terminal import ROOT, Terminal
from tui.persistence import practice_log, store

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals, no SIGKILL")

KILLS = int(os.environ.get("STILLHAND_KILLS", "2"))
HELD = int(os.environ.get("STILLHAND_HELD", "100"))
"""Steps for which the key is held down, as many forward as back."""
BACK = "\x1b[D"

SONG = """\
title = "Pier Lights"
key = "C"
meter = "4/4"
tempo = 100
roadmap = "Verse x50"

[sections.Verse]
bars = "| Dm7 | G7 | Cmaj7 | % |"
"""
SET = 'title = "Pier"\n\n[[songs]]\nfile = "pier.toml"       # the opener\n'

SAVER = """
import sys
from pathlib import Path
from tui.persistence import store
texts = [Path(name).read_text() for name in sys.argv[2:]]
print("ready", flush=True)
for turn in range(10**9):
    store.save(Path(sys.argv[1]), texts[turn % 2])
    store.save_session(store.Session(Path(sys.argv[1]), 0, turn % 7))
"""


@pytest.fixture
def pier(tmp_path: Path, home: Path) -> Path:
    (tmp_path / "pier.toml").write_text(SONG)
    (tmp_path / "set.toml").write_text(SET)
    return tmp_path / "set.toml"


def halves(*folders: Path) -> list[Path]:
    """Return the files that a killed process left half written."""
    return [file for folder in folders for file in folder.glob(".*.part")]


def test_a_process_killed_while_saving_leaves_the_old_file_or_the_new_one(pier: Path, home: Path) -> None:
    chance = random.Random(7)
    texts = {SET, SET.replace("Pier", "Quay") + "# a remark that goes on\n" * 500}
    names = []
    for number, text in enumerate(sorted(texts)):
        names.append(pier.with_name(f"{number}.txt"))
        names[-1].write_text(text)
    for _ in range(KILLS):
        saver = subprocess.Popen(
            [sys.executable, "-c", SAVER, str(pier), *map(str, names)], cwd=ROOT, stdout=subprocess.PIPE
        )
        assert saver.stdout is not None
        saver.stdout.readline()
        time.sleep(chance.uniform(0, 0.03))
        saver.kill()
        saver.wait()
        assert pier.read_text() in texts
        assert len(store.open_set(pier).songs) == 1
        if (home / "session.json").exists():
            json.loads((home / "session.json").read_text())
    assert store.load_session().step < 7
    assert not list(home.glob("*.unreadable*"))
    for left in halves(pier.parent, home):
        os.utime(left, (1, 1))
    store.save(pier, SET)
    store.save_session(store.Session())
    assert not halves(pier.parent, home)


@pytest.mark.timeout(30 + 30 * KILLS)
def test_a_stand_killed_while_it_is_played_opens_where_it_was(pier: Path, home: Path) -> None:
    chance = random.Random(11)
    keys = ["C"]
    for turn in range(KILLS):
        with Terminal(str(pier)) as terminal:
            terminal.wait_for("Pier Lights")
            terminal.wait_for("bar ")
            terminal.press(" " * chance.randint(0, 5) + chance.choice(["", "i"]) + f"k+{1 + turn % 3}\r" + "  ")
            terminal.read(chance.uniform(0.0, 0.7))
            os.killpg(terminal.process.pid, signal.SIGKILL)
            terminal.process.wait()
        keys.append(store.open_set(pier).songs[0].song.key)
        assert "# the opener" in pier.read_text()
        assert pier.with_name("pier.toml").read_text() == SONG
        assert 0 <= store.load_session(pier).step <= 200
    assert not list(home.glob("*.unreadable*"))
    assert len(halves(pier.parent, home)) <= 2 * KILLS
    with Terminal(str(pier)) as terminal:
        terminal.wait_for("Pier Lights")
        terminal.press("q")
        assert terminal.end() == 0


TRIES = """
from datetime import datetime
from engine.practice.log import Try
from tui.persistence import practice_log
for number in range(10**9):
    practice_log.add(Try(datetime(2026, 3, 2), "5C2 | - > 5D2 | -", 60.0 + number % 100, True))
    print(number, flush=True)
"""


def test_a_process_killed_while_practising_keeps_every_try_it_told_of(home: Path) -> None:
    chance = random.Random(13)
    told = 0
    for turn in range(KILLS):
        writer = subprocess.Popen([sys.executable, "-c", TRIES], cwd=ROOT, stdout=subprocess.PIPE)
        assert writer.stdout is not None
        writer.stdout.readline()
        time.sleep(chance.uniform(0, 0.03))
        writer.kill()
        told += 1 + writer.stdout.read().count(b"\n")
        writer.wait()
        log = practice_log.load()
        assert told <= len(log.tries) <= told + turn + 1
        assert len(log.bad) <= turn + 1
        told = len(log.tries)
    assert [file.name for file in home.iterdir()] == [practice_log.NAME]


def test_a_disk_that_fills_up_in_the_middle_of_a_try_spoils_no_other(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = Try(datetime(2026, 3, 2), "5C2 | - > 5D2 | -", 60.0, True)
    practice_log.add(one)
    write, room = os.write, [10]

    def full(handle: int, data: bytes) -> int:
        if not room[0]:
            raise OSError(28, "No space left on device")
        done = write(handle, data[: room[0]])
        room[0] -= done
        return done

    with monkeypatch.context() as patch:
        patch.setattr(os, "write", full)
        with pytest.raises(store.StoreError, match="no space left"):
            practice_log.add(one)
    practice_log.add(one)
    log = practice_log.load()
    assert log.tries == (one, one)
    assert len(log.bad) == 1


def swallow(terminal: Terminal, seconds: float) -> None:
    """Take what the process writes for so long and look at none of it: reading as a person does is what takes time."""
    until = time.monotonic() + seconds
    while (left := until - time.monotonic()) > 0:
        if select.select([terminal.file], [], [], left)[0]:
            terminal.raw += os.read(terminal.file, 65536)


def test_a_hundred_resizes_a_second_and_keys_between_them_end_as_they_should(pier: Path) -> None:
    chance = random.Random(17)
    with Terminal(str(pier)) as terminal:
        terminal.wait_for("bar 1 of 4")
        for turn in range(min(HELD, 1000)):
            terminal.resize(chance.randint(20, 220), chance.randint(5, 70))
            terminal.press(" " if turn % 10 == 0 else "")
            swallow(terminal, 0.01)
        terminal.resize(80, 24)
        swallow(terminal, 0.5)
        terminal.press("q")
        assert terminal.end() == 0
        assert terminal.restored
    assert store.load_session().step == min(HELD, 1000) // 10


@pytest.mark.timeout(60 + HELD // 20)
def test_a_key_held_down_steps_once_a_press_and_stops_when_it_is_let_go(pier: Path) -> None:
    with Terminal(str(pier)) as terminal:
        terminal.wait_for("bar 1 of 4")
        for _ in range(HELD // 100):
            for key in (" ", BACK):
                terminal.press(key * 50)
                swallow(terminal, 0.05)
        terminal.press("   q")
        assert terminal.end(60 + HELD / 50) == 0
        assert terminal.restored
    assert store.load_session().step == 3


@pytest.fixture
def long_set(pier: Path) -> Path:
    """A set of twenty songs of which one cannot be read."""
    for number in range(1, 20):
        pier.with_name(f"{number}.toml").write_text(SONG.replace("Pier Lights", f"Pier {number}"))
    pier.with_name("7.toml").write_text('title = "Pier 7\nkey')
    pier.write_text(SET + "".join(f'\n[[songs]]\nfile = "{number}.toml"\n' for number in range(1, 20)))
    return pier


def test_keys_pressed_before_the_first_picture_find_the_whole_set(long_set: Path) -> None:
    before = long_set.read_bytes()
    with Terminal(str(long_set)) as terminal:
        terminal.press(" " * 3 + "s")
        shown = terminal.wait_for("SET  Pier")
        assert "20 songs" in shown
        assert "8 -- 7.toml" in shown
        assert "0:00" not in shown
        terminal.press("s")
        terminal.wait_for("bar 4 of 4")
        terminal.press("q")
        assert terminal.end() == 0
    assert long_set.read_bytes() == before
    assert store.load_session().step == 3


@pytest.mark.timeout(30 + 30 * KILLS)
def test_a_stand_pulled_about_and_killed_while_it_starts_leaves_the_set_whole(long_set: Path, home: Path) -> None:
    chance = random.Random(19)
    before = long_set.read_text()
    for _ in range(KILLS):
        with Terminal(str(long_set)) as terminal:
            terminal.press(" " * chance.randint(0, 30) + "t133\r")
            for _ in range(chance.randint(1, 100)):
                terminal.resize(chance.randint(20, 200), chance.randint(5, 60))
                terminal.read(0.01)
            os.killpg(terminal.process.pid, signal.SIGKILL)
            terminal.process.wait()
        assert long_set.read_text() in (before, before.replace("the opener\n", "the opener\ntempo = 133\n"))
    assert not list(home.glob("*.unreadable*"))
