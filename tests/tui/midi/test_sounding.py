from hypothesis import given
from hypothesis import strategies as st

from engine.performance.events import control, note_off, note_on
from tests.tui.midi.heard import still_sounding
from tui.midi.sounding import SoundingPort


class Wire:
    """An output that keeps what it is sent and minds being used after it was closed."""

    def __init__(self) -> None:
        self.sent: list[bytes] = []
        self.closed = False

    def send(self, data: bytes) -> None:
        assert not self.closed, "a send after the close crashes the library"
        self.sent.append(data)

    def close(self) -> None:
        self.closed = True


messages = st.lists(
    st.one_of(
        st.builds(note_on, st.integers(0, 127), st.integers(1, 127), st.integers(1, 16)),
        st.builds(note_off, st.integers(0, 127), st.integers(1, 16)),
        st.builds(control, st.just(64), st.sampled_from([0, 127]), st.integers(1, 16)),
    ),
    max_size=40,
)


@given(messages)
def test_nothing_sounds_after_closing_whatever_was_sent(line):
    wire = Wire()
    port = SoundingPort(wire)
    for data in line:
        port.send(data)
    port.close()
    assert still_sounding(wire.sent) == set()
    assert wire.closed


@given(messages)
def test_on_every_key_strikes_and_releases_alternate(line):
    wire = Wire()
    port = SoundingPort(wire)
    for data in line:
        port.send(data)
    down = set()
    for data in wire.sent:
        if data[0] & 0xF0 == 0x90:
            assert (data[0] & 0x0F, data[1]) not in down
            down.add((data[0] & 0x0F, data[1]))
        elif data[0] & 0xF0 == 0x80:
            down.remove((data[0] & 0x0F, data[1]))


def test_after_closing_nothing_is_sent():
    wire = Wire()
    port = SoundingPort(wire)
    port.close()
    port.send(note_on(60))
    port.silence()
    port.close()
    assert wire.closed


def test_only_what_changes_is_released():
    wire = Wire()
    port = SoundingPort(wire)
    port.strike({48: 70, 60: 70, 64: 70}, 1)
    port.strike({48: 70, 60: 70, 65: 70}, 1, legato=True)
    assert wire.sent[3:] == [note_off(64), note_on(65, 70)]


def test_a_wide_chord_is_struck_from_below():
    wire = Wire()
    SoundingPort(wire).strike({67: 70, 36: 70, 60: 70}, 1)
    assert [data[1] for data in wire.sent] == [36, 60, 67]


def test_the_clock_of_a_leader_belongs_to_no_channel():
    wire = Wire()
    port = SoundingPort(wire)
    port.send(b"\xf8")
    port.silence()
    assert wire.sent == [b"\xf8"]
