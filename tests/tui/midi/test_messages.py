"""What goes into the pipe comes out of it."""

import pytest

from engine.performance.following import Place
from engine.performance.timeline import Loop, Mark, Performance
from tui.midi import messages as said

MESSAGES = [
    said.Play(Performance((), (Mark(0.5, "step", 3),), (Loop(0.0, 2.0),), 4.0), 12.5),
    said.More(((0.0, b"\x90\x3c\x40"), (1.5, b"\x80\x3c\x40"))),
    said.LeaderAt(Place(1, 16, True), 120.5, 3.0),
    said.Ports(("Piano ♪",), (), "", "", ("ALSA",)),
]


@pytest.mark.parametrize("message", MESSAGES, ids=lambda message: type(message).__name__)
def test_a_message_is_one_line_and_comes_back_as_it_was(message: object):
    line = said.to_line(message)
    assert line.count(b"\n") == 1
    assert said.from_line(line) == message


@pytest.mark.parametrize("line", [b"\n", b"jack server is not running\n", b"AAAA\n", b"\xff\xfe\n"])
def test_what_a_library_prints_is_no_message(line: bytes):
    with pytest.raises(ValueError, match=r"\w"):
        said.from_line(line)
