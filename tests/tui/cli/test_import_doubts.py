"""The doubts of an import settled key by key, as a person at a terminal does it."""

from collections.abc import Callable

import click
import pytest

from engine.formats.chart_text.reader import song_from_text
from engine.formats.import_choices import AS_READ, Answers
from engine.formats.import_result import Imported
from engine.song.reader import read_song
from tui.cli import import_song
from tui.cli.import_doubts import LEAVE, settled
from tui.cli.import_song import import_

LOOSE = "Pier\n\nC2  Am7\nwalking on\nFsus  G2\nand home\n"
Typed = Callable[..., None]


@pytest.fixture
def typed(monkeypatch: pytest.MonkeyPatch) -> Typed:
    """Return a function that lays down the keys to be pressed."""

    def keys(*pressed: str) -> None:
        waiting = list(pressed)
        monkeypatch.setattr(click, "getchar", lambda: waiting.pop(0))

    return keys


def read(answers: Answers) -> Imported:
    return song_from_text(LOOSE, answers=answers)


def sounding(found: Imported) -> dict[str, tuple[str, ...]]:
    events = (event for section in found.song.sections for bar in section.bars for event in bar.events)
    return {event.symbol: event.chord.degrees for event in events if event.chord}


def test_one_key_flips_a_doubt_for_the_whole_song(typed, capsys):
    typed("3", "\r")
    end = settled(read(AS_READ), read, "pier.toml")
    assert end.saved
    assert sounding(end.found)["Csus2"] == sounding(end.found)["Gsus2"] == ("1", "5", "9")
    assert capsys.readouterr().err.count("C2, G2: 2 read as a ninth without the third") == 1


def test_the_same_key_twice_is_as_before(typed):
    typed("3", "3", "\r")
    assert settled(read(AS_READ), read, "pier.toml").found == read(AS_READ)


def test_proposed_bars_hold_one_two_or_four_chords_in_turn(typed):
    typed("1", "1", "\r")
    assert len(settled(read(AS_READ), read, "pier.toml").found.song.sections[0].bars) == 2


def test_a_likely_key_takes_the_place_of_the_likeliest_and_comes_round_again(typed):
    typed("2", "\r")
    first = read(AS_READ)
    second = settled(first, read, "pier.toml").found
    assert second.song.key != first.song.key
    typed("2", "2", "2", "\r")
    assert settled(first, read, "pier.toml").found.song.key == first.song.key


def test_a_key_without_a_doubt_does_nothing(typed):
    typed("9", "x", "\x1b[A", "p")
    end = settled(read(AS_READ), read, "pier.toml")
    assert (end.saved, end.found) == (False, read(AS_READ))


@pytest.mark.parametrize("key", LEAVE)
def test_leaving_writes_nothing(typed, key):
    typed(key)
    with pytest.raises(click.Abort):
        settled(read(AS_READ), read, "pier.toml")


def test_an_answer_that_gives_no_song_leaves_the_one_before(typed, capsys):
    from engine.formats.import_result import NotImported

    def refused(answers: Answers) -> Imported:
        raise NotImported("no song", "try again")

    typed("1", "\r")
    assert settled(read(AS_READ), refused, "pier.toml").found == read(AS_READ)
    assert "That gives no song: no song" in capsys.readouterr().err


def test_at_a_terminal_enter_saves_beside_what_is_there_already(typed, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "pier.txt").write_text(LOOSE)
    (tmp_path / "pier.toml").write_text("mine")
    monkeypatch.setattr(import_song, "_at_terminal", lambda: True)
    typed("\r")
    import_.callback(tmp_path / "pier.txt", None, 1, (), None, False, False)
    assert (tmp_path / "pier.toml").read_text() == "mine"
    assert read_song((tmp_path / "pier-2.toml").read_text(), "").title == "Pier"


def test_a_chart_without_a_choice_is_written_at_once(typed, tmp_path, monkeypatch):
    (tmp_path / "pier.txt").write_text("key: C  tempo: 90\n| C | F |")
    monkeypatch.setattr(import_song, "_at_terminal", lambda: True)
    typed()
    import_.callback(tmp_path / "pier.txt", tmp_path / "out.toml", 1, (), None, False, False)
    assert (tmp_path / "out.toml").exists()


def test_a_chord_before_the_first_bar_line_is_a_pickup_or_a_bar(typed):
    def pickup(answers: Answers) -> Imported:
        return song_from_text("key: D  tempo: 90\n(A7) | D | G | D | D |", answers=answers)

    typed("1", "\r")
    before, after = pickup(AS_READ), settled(pickup(AS_READ), pickup, "x.toml").found
    assert [len(found.song.sections[0].bars) for found in (before, after)] == [5, 5]
    assert [found.song.sections[0].pickup for found in (before, after)] == [1, 0]
