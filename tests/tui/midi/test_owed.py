from engine.performance.events import control, note_off
from tests.tui.midi.test_sounding import Wire
from tui.midi import owed
from tui.midi.owed import EVERY, LONG, Owed, silence_for_good
from tui.midi.sound_book import SoundBook

CHORD = (note_off(60), note_off(64, 2))


def times(one: Owed, sounding: tuple[tuple[int, int], ...] = ()) -> list[tuple[bytes, ...]]:
    found = []
    while one.next is not None:
        found.append(one.due(one.next, sounding))
    return found


def test_what_is_owed_is_sent_for_as_long_as_a_server_may_lose_it_and_then_no_more():
    one = Owed()
    one.begin(CHORD, 10.0)
    sent = times(one)
    assert set(sent) == {CHORD}
    assert len(sent) == round(LONG / EVERY)
    assert one.due(100.0) == ()


def test_nothing_is_due_before_its_time():
    one = Owed()
    one.begin(CHORD, 10.0)
    assert one.due(10.0 + EVERY / 2) == ()
    assert one.next == 10.0 + EVERY


def test_a_key_that_was_struck_anew_is_left_alone():
    one = Owed()
    one.begin(CHORD, 10.0)
    assert set(times(one, ((2, 64),))) == {(note_off(60),)}


def test_silence_in_a_dead_clocks_place_is_repeated_and_spares_what_a_new_clock_plays(monkeypatch):
    monkeypatch.setattr(owed, "EVERY", 0.01)
    monkeypatch.setattr(owed, "LONG", 0.03)
    book, one, other = SoundBook(), Wire(), Wire()
    silence_for_good((one, other), book, CHORD)
    for wire in (one, other):
        assert wire.sent.count(CHORD[0]) >= 2
        assert wire.sent.count(control(123, 0)) == 1
    book.write(1, 60, True)  # A new clock has struck it.
    later = Wire()
    silence_for_good((later,), book, CHORD)
    assert CHORD[0] not in later.sent
    assert CHORD[1] in later.sent
    assert control(123, 0) not in later.sent
