import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.performance.events import Note, in_order, note_off, note_on, wire

notes = st.lists(
    st.builds(
        Note,
        st.sampled_from([0.0, 0.5, 1.0, 1.5]),
        st.integers(60, 63),
        st.sampled_from([0.0, 0.5, 1.0, 2.0]),
        st.integers(1, 127),
        st.integers(1, 2),
    ),
    max_size=12,
)


@given(notes)
def test_every_note_on_is_followed_by_its_own_note_off(line):
    down = set()
    for _, data in wire(tuple(line)):
        voice = (data[0] & 0x0F, data[1])
        if data[0] & 0xF0 == 0x90:
            assert voice not in down
            down.add(voice)
        else:
            down.remove(voice)
    assert not down


@given(notes)
def test_messages_come_in_the_order_of_time(line):
    times = [seconds for seconds, _ in wire(tuple(line))]
    assert times == sorted(times)


def test_a_chord_leaves_low_notes_first():
    chord = tuple(Note(1.0, key, 1.0) for key in (67, 48, 60, 64))
    assert [data[1] for seconds, data in wire(chord) if seconds == 1.0] == [48, 60, 64, 67]


def test_at_a_change_the_old_notes_go_before_the_new_ones_come():
    line = wire((Note(0.0, 60, 1.0), Note(1.0, 50, 1.0)))
    assert [data for seconds, data in line if seconds == 1.0] == [note_off(60), note_on(50)]


def test_of_two_streams_at_one_moment_the_first_goes_first():
    assert [data for _, data in in_order(((1.0, b"b"),), ((0.0, b"c"), (1.0, b"a")))] == [b"c", b"b", b"a"]


@pytest.mark.parametrize("facts", [(-1, 60, 1), (0, 128, 1), (0, 60, -1), (0, 60, 1, 0), (0, 60, 1, 64, 17)])
def test_what_midi_cannot_say_is_no_note(facts):
    with pytest.raises(ValueError, match=r"note"):
        Note(*facts)
