"""The real thing in a terminal: opened, played and left, and the terminal as it was before."""

import sys
from pathlib import Path

import pytest

from tests.tui.sets_in_files import PIER, PIER_SET
from tests.tui.terminal import Terminal

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals")


def test_a_set_is_opened_stepped_and_left(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Pier Lights")
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press(" ")
        terminal.wait_for("Verse, bar 2 of 4")
        terminal.press("\x1b[6~")
        terminal.wait_for("Verse, bar 3 of 4")
        terminal.press("q")
        assert terminal.end() == 0
        assert terminal.restored


def test_a_song_asked_for_begins_at_its_top(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("  ")
        terminal.wait_for("Verse, bar 3 of 4")
        terminal.press("q")
        terminal.end()
    with Terminal(pier, "--song", "1") as again:
        again.wait_for("Verse, bar 1 of 4")


def test_tonights_key_is_in_the_file_after_a_quick_quit(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("k+2\rq")
        assert terminal.end() == 0
    text = Path(pier).read_text()
    assert 'key = "D"' in text
    assert "# the opener" in text
    assert Path(pier).with_name("pier.toml").read_text() == PIER


def test_what_is_changed_and_taken_back_leaves_the_file_to_the_letter(pier: str) -> None:
    before = Path(pier).read_bytes()
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("t133\rk+2\r")
        terminal.wait_for("133")
        terminal.read(1.0)
        assert b"133" in Path(pier).read_bytes()
        terminal.press("uuq")
        assert terminal.end() == 0
    assert Path(pier).read_bytes() == before


def test_another_programs_change_is_offered_and_taken_up(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        song = Path(pier).with_name("pier.toml")
        song.write_text(PIER.replace("Pier Lights", "Harbour Lights"))
        terminal.wait_for("changed elsewhere")
        terminal.press("w")
        terminal.wait_for("Harbour Lights")
        terminal.press("q")
        assert terminal.end() == 0


def test_two_copies_on_one_set_lose_nothing(pier: str) -> None:
    with Terminal(pier) as one, Terminal(pier) as other:
        one.wait_for("Verse, bar 1 of 4")
        other.wait_for("Verse, bar 1 of 4")
        one.press("k+2\r")
        one.wait_for(" D  ")
        other.wait_for("changed elsewhere")
        other.press("t90\r")
        other.wait_for("90")
        other.press("q")
        one.press("q")
        assert (one.end(), other.end()) == (0, 0)
    text = Path(pier).read_text()
    assert 'key = "D"' in text
    assert "tempo = 90" in text


def test_a_full_disk_is_said_and_nothing_is_lost(pier: str) -> None:
    code = (
        "from pathlib import Path; from tui.persistence import store; from tui.app import StandApp\n"
        "def full(path, text): raise store.StoreError(Path(path), 'the disk is full', 'make room')\n"
        f"set_list = store.open_set(Path({pier!r})); store.save = full\n"
        f"StandApp(set_list, Path({pier!r})).run()"
    )
    with Terminal(code=code) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("k+2\r")
        terminal.wait_for("NOT SAVED")
        terminal.press(" ")
        terminal.wait_for("Verse, bar 2 of 4")
        terminal.press("q")
        terminal.wait_for("NOT SAVED. Copy to:")
        terminal.press("\x1b")
        terminal.wait_for("Verse, bar 2 of 4")
        terminal.press("q")
        terminal.wait_for("NOT SAVED. Copy to:")
        terminal.press("\t")
        assert terminal.end() == 1
        assert "NOT SAVED: set.toml: the disk is full" in terminal.text
        assert "Pier Lights, key: D" in terminal.text
    assert Path(pier).read_text() == PIER_SET


def test_a_set_whose_folder_is_gone_is_kept_in_a_copy(pier: str, tmp_path: Path) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        Path(pier).unlink()
        terminal.press("k+2\r")
        terminal.wait_for("NOT SAVED")
        terminal.press("q")
        terminal.wait_for("NOT SAVED. Copy to:")
        terminal.press(f"\x15{tmp_path / 'copy' / 'set.toml'}\r")
        assert terminal.end() == 0
    copy = (tmp_path / "copy" / "set.toml").read_text()
    assert 'key = "D"' in copy
    assert str(Path(pier).with_name("pier.toml")) in copy


def test_a_redirected_standard_error_is_refused_in_words(pier: str) -> None:
    code = (
        "import os, sys\n"
        "os.dup2(os.open(os.devnull, os.O_WRONLY), 2)\n"
        "from pathlib import Path; from tui.persistence import store; from tui.app import StandApp\n"
        f"StandApp(store.open_set(Path({pier!r})), Path({pier!r})).run()"
    )
    with Terminal(code=code) as terminal:
        assert terminal.end() == 2
        assert "without 2>" in terminal.text


def test_without_colour_nothing_is_coloured(pier: str) -> None:
    with Terminal(pier, NO_COLOR="1") as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("q")
        assert terminal.end() == 0
        assert b"\x1b[38;" not in terminal.raw
        assert b";38;" not in terminal.raw
        assert b"48;2" not in terminal.raw


def test_a_terminal_that_knows_ascii_alone_gets_ascii(pier: str) -> None:
    with Terminal(pier, LC_ALL="POSIX", PYTHONCOERCECLOCALE="0", PYTHONUTF8="0") as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("kbb\r")
        terminal.wait_for("Bb")
        terminal.press("q")
        assert terminal.end() == 0
        assert terminal.raw.isascii()
        assert b"\\u" not in terminal.raw


def test_a_linux_console_gets_the_plainer_figures(pier: str) -> None:
    with Terminal(pier, TERM="linux") as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("q")
        assert terminal.end() == 0
        assert terminal.restored


def test_a_window_made_smaller_and_larger_is_drawn_anew(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.resize(40, 10)
        terminal.wait_for("make the window larger")
        for width in range(41, 120, 3):
            terminal.resize(width, 10 + width // 4)
        terminal.resize(80, 24)
        terminal.wait_for("bar 1 of 4")
        terminal.press(" ")
        terminal.wait_for("bar 2 of 4")
        terminal.press("q")
        assert terminal.end() == 0


def test_the_first_start_tells_six_things_while_one_plays_and_the_second_none(pier: str) -> None:
    with Terminal(pier) as terminal:
        terminal.wait_for("1/6")
        terminal.press(" ")
        terminal.wait_for("2/6")
        terminal.press("     ")
        terminal.wait_for("space next")
        terminal.press("q")
        assert terminal.end() == 0
    with Terminal(pier) as again:
        again.wait_for("Pier Lights")
        again.wait_for("space next")


def test_the_stand_opens_without_what_it_does_not_need_yet(pier: str) -> None:
    code = (
        "import sys, atexit; from pathlib import Path; from tui.persistence import store\n"
        "from tui.app import StandApp\n"
        f"app = StandApp(store.open_set(Path({pier!r})), Path({pier!r}))\n"
        "app.run()\n"
        "heavy = {'numpy', 'mido', 'rtmidi', 'tomlkit', 'music21', 'markdown_it', 'pygments', 'multiprocessing'}\n"
        "heavy |= {'statistics', '_hashlib'}\n"
        "print('LOADED', sorted(heavy & set(sys.modules)), flush=True)"
    )
    with Terminal(code=code) as terminal:
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.read(0.5)
        terminal.press(" ")
        terminal.wait_for("Verse, bar 2 of 4")
        terminal.press("q")
        assert terminal.end() == 0
        assert "LOADED []" in terminal.text


def test_a_song_with_a_fault_opens_to_be_mended_instead_of_being_refused(tmp_path: Path) -> None:
    song = tmp_path / "pier.toml"
    song.write_text(PIER.replace("| G7 |", "| Gxyz |"))
    with Terminal(str(song)) as terminal:
        terminal.wait_for("1 fault")
        terminal.press("\x1b[3~" * 4 + "G7")
        terminal.wait_for("reads without a fault")
        terminal.press("\x13")
        terminal.wait_for("is written")
        terminal.wait_for("Verse, bar 1 of 4")
        terminal.press("q")
        assert terminal.end() == 0
    assert song.read_text() == PIER
