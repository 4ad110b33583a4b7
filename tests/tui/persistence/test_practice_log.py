"""The log's file under a player's hands: crashes, wrong rights, broken bytes."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from engine.practice.log import Try
from tui.persistence import practice_log
from tui.persistence.store import StoreError

ONE = Try(datetime(2026, 3, 2, 20, 30), "5C2 | - > 5D2 | -", 72.0, True, ("C", "D"), "Ropewalk")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "home" / "practice.jsonl"


def test_no_log_yet_is_an_empty_one(path: Path) -> None:
    assert practice_log.load(path).tries == ()


def test_tries_are_added_to_the_end(path: Path) -> None:
    practice_log.add(ONE, path)
    later = Try(ONE.when + timedelta(minutes=1), ONE.sign, 76.0, False)
    practice_log.add(later, path)
    assert practice_log.load(path).tries == (ONE, later)


def test_a_half_written_line_is_kept_and_the_next_try_stands_on_its_own(path: Path) -> None:
    practice_log.add(ONE, path)
    with path.open("a") as file:
        file.write('{"when": "2026-03-0')
    practice_log.add(ONE, path)
    log = practice_log.load(path)
    assert log.tries == (ONE, ONE)
    assert [bad.line for bad in log.bad] == [2]
    assert '{"when": "2026-03-0\n' in path.read_text()


def test_broken_bytes_spoil_their_own_line_alone(path: Path) -> None:
    practice_log.add(ONE, path)
    with path.open("ab") as file:
        file.write(b"\xff\xfe\x00 what is this\n")
    practice_log.add(ONE, path)
    log = practice_log.load(path)
    assert (len(log.tries), len(log.bad)) == (2, 1)


def test_an_editors_byte_order_mark_does_no_harm(path: Path) -> None:
    practice_log.add(ONE, path)
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    assert practice_log.load(path).tries == (ONE,)


def test_the_caution_is_seen_once(path: Path) -> None:
    assert not practice_log.load(path).cautioned
    practice_log.add_caution(ONE.when, path)
    assert practice_log.load(path).cautioned


def test_a_try_is_taken_back_without_erasing_a_line(path: Path) -> None:
    practice_log.add(ONE, path)
    practice_log.add(ONE, path)
    practice_log.take_back(ONE.when, path)
    assert practice_log.load(path).tries == (ONE,)
    assert path.read_text().count("\n") == 3


def test_a_log_that_cannot_be_read_says_so(path: Path) -> None:
    path.mkdir(parents=True)
    with pytest.raises(StoreError, match="practice log cannot be read"):
        practice_log.load(path)


def test_a_try_that_cannot_be_kept_says_so(path: Path) -> None:
    path.parent.write_text("a file where a folder should be")
    with pytest.raises(StoreError, match="the try could not be kept"):
        practice_log.add(ONE, path)


def test_it_lies_in_the_players_own_folder(home: Path) -> None:
    practice_log.add(ONE)
    assert (home / "practice.jsonl").is_file()
