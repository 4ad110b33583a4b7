"""What the player plays goes on to an instrument, and a flood holds up nobody."""

from hypothesis import given
from hypothesis import strategies as st

from engine.performance.events import control, note_off, note_on
from tests.tui.midi.heard import still_sounding
from tui.midi.thru import KEPT, Thru


def everything(thru: Thru) -> tuple[bytes, ...]:
    """Return all that waits, however long it takes."""
    sent, now = [], 1.0
    while thru.pending:
        sent += thru.take(now)
        now += 0.01
    return tuple(sent)


def passed(*messages: bytes) -> tuple[bytes, ...]:
    thru = Thru(lambda: None)
    for data in messages:
        thru.receive(data)
    return everything(thru)


def test_notes_pedals_and_programs_go_on_in_their_order():
    played = (
        b"\xc0\x05",
        note_on(60, 90),
        control(64, 127),
        note_off(60),
        note_on(64, 80),
        control(64, 0),
        note_off(64),
    )
    assert passed(*played) == played


def test_a_wheel_that_moves_faster_than_it_is_sent_ends_where_it_stands():
    assert passed(*(bytes((0xE0, n % 128, n // 128)) for n in range(10_000))) == (bytes((0xE0, 9_999 % 128, 78)),)
    assert passed(control(1, 5), control(1, 9), control(11, 3)) == (control(1, 9), control(11, 3))


def test_clock_sensing_and_system_exclusive_stay_here():
    assert passed(b"\xf8", b"\xfe", b"\xf0\x7e\xf7") == ()


def test_somebody_is_woken_once_for_all_that_waits():
    woken = []
    thru = Thru(lambda: woken.append(1))
    thru.receive(note_on(60))
    thru.receive(note_on(64))
    assert woken == [1]
    thru.take(1.0)
    thru.receive(note_off(60))
    assert woken == [1, 1]


def test_of_a_flood_of_keys_no_more_go_down_than_can_be_sent_and_all_go_up():
    thru, sent = Thru(lambda: None), []
    for n in range(10_000):
        thru.receive(note_on(n % 128, 1 + n % 127))
    sent += everything(thru)
    assert len(sent) <= KEPT
    for n in range(128):
        thru.receive(note_off(n))
    sent += everything(thru)
    assert still_sounding(sent) == set()


played = st.lists(
    st.one_of(st.builds(note_on, st.integers(0, 20)), st.builds(note_off, st.integers(0, 20))), max_size=60
)


@given(played)
def test_whatever_is_played_as_many_keys_sound_behind_as_before_it(messages):
    assert still_sounding(passed(*messages)) == still_sounding(messages)
