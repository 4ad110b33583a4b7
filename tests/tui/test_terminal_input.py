"""Bytes from a terminal: keys, pastes and reports are understood; whatever else comes is passed over."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from textual import events

from tui.terminal import input as terminal_input
from tui.terminal.input import PASTE_LIMIT, Input


def read(data: bytes, size: int = 4096) -> list[object]:
    """Return all that comes of bytes that are read `size` at a time."""
    reader = Input()
    parts = [data[start : start + size] for start in range(0, len(data), size)]
    return [event for part in parts for event in reader.events(part, more=len(part) == size)] + list(reader.quiet())


def keys(data: bytes, size: int = 4096) -> list[str]:
    return [event.key for event in read(data, size) if isinstance(event, events.Key)]


NOISE = (
    b"\xff", b"\x9b", b"\xc3", b"\xed\xa0\x80", b"\x1b[1114112;5u", b"\x1b[55296u", b"\x1b[999999999999;99~",
    b"\x1b[99;99X", b"\x1b[<-1;-5;" + b"9" * 32 + b"M", b"\x1b]11;rgb:00/00/00\x07", b"\x1bP1$r0m\x1b\\", b"\x1b[?6c",
)  # fmt: skip
"""What is no key: noise on the line, numbers that are no characters, answers that nobody asked for."""


@pytest.mark.parametrize("noise", NOISE)
def test_noise_between_two_keys_is_passed_over(noise: bytes) -> None:
    assert keys(b"a" + noise + b"z") == ["a", "z"]


# Source: xterm control sequences, PC-style function keys; kitty keyboard protocol; Linux console_codes(4).
@pytest.mark.parametrize(
    ("data", "key"),
    [(b"\x1b[5~", "pageup"), (b"\x1b[A", "up"), (b"\x1bOB", "down"), (b"\x1b[[A", "f1"), (b"\x1b[113;5u", "ctrl+q")],
)
@pytest.mark.parametrize("size", [1, 2, 3, 4096])
def test_keys_are_understood_however_they_are_cut(data: bytes, key: str, size: int) -> None:
    assert keys(data + b"x", size) == [key, "x"]


@pytest.mark.parametrize("size", [1, 2, 5, 7, 4096])
def test_a_paste_is_one_text_without_control_sequences_however_it_is_cut(size: int) -> None:
    found = read(b"a\x1b[200~Pier\x1b[A q\x1b[201~b", size)
    assert [event.text for event in found if isinstance(event, events.Paste)] == ["Pier[A q"]
    assert [event.key for event in found if isinstance(event, events.Key)] == ["a", "b"]


def test_of_half_a_megabyte_no_more_is_passed_on_than_any_line_takes() -> None:
    pasted, key = read(b"\x1b[200~" + b"abcde" * 100_000 + b"\x1b[201~q")
    assert isinstance(pasted, events.Paste)
    assert isinstance(key, events.Key)
    assert len(pasted.text) == PASTE_LIMIT


def test_a_paste_that_never_ends_does_not_keep_the_keys(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(terminal_input, "PASTE_PAUSE", 0.0)
    reader = Input()
    assert list(reader.events(b"\x1b[200~abc")) == []
    list(reader.quiet())
    assert [event.key for event in reader.events(b"q") if isinstance(event, events.Key)] == ["q"]


PIECES = [
    b"\x1b[",
    b"\x1b",
    b"200~",
    b"201~",
    b"<0;1;1",
    b"M",
    b"m",
    b"u",
    b"~",
    b":",
    b";",
    b"99999999",
    b"$y",
    b"?2048;1",
]


@settings(max_examples=200)
@given(st.lists(st.one_of(st.sampled_from(PIECES), st.binary(max_size=6)), max_size=40), st.integers(1, 64))
def test_no_bytes_make_it_fail_and_it_goes_on_hearing(pieces: list[bytes], size: int) -> None:
    data = b"".join(pieces)
    reader = Input()
    for start in range(0, len(data), size):
        list(reader.events(data[start : start + size], more=True))
    list(reader.events(b"\x1b[201~\x1b\\\x07"))
    list(reader.quiet())
    # Without a pause the parser takes up to 32 characters for a sequence that has begun.
    heard = [event.key for event in reader.events(b" " * 40 + b"q") if isinstance(event, events.Key)]
    assert heard[-1:] == ["q"]
