"""Messages at their deadlines, marks as they come, and a book of what sounds."""

import time
from itertools import pairwise

from engine.performance.events import Note, control, note_off, note_on, wire
from engine.performance.timeline import Loop, Mark, Performance
from tests.tui.midi.studio import PIANO, Studio, sent
from tests.tui.waiting import until


def test_notes_are_sent_in_order_and_in_time(studio: Studio):
    studio.ready()
    line = wire(tuple(Note(n * 0.05, 60 + n, 0.04) for n in range(8)))
    before = len(studio.messages())
    studio.clock.play(Performance(line), 0.1)
    until(lambda: len(studio.messages()) >= before + len(line))
    notes = [item for item in sent(studio.folder) if item[1][0] & 0xE0 == 0x80]
    assert [data for _, data in notes] == [data for _, data in line]
    begin = notes[0][0] - line[0][0]
    late = sorted(abs(at - begin - planned) for (at, _), (planned, _) in zip(notes, line, strict=True))
    assert late[len(late) // 2] < 0.003


def test_beats_and_steps_are_said_when_they_come(studio: Studio):
    studio.ready()
    marks = (Mark(0.0, "beat", 3), Mark(0.1, "step", 7))
    studio.clock.play(Performance((), marks))
    until(lambda: any(event.kind == "end" for event in studio.events))
    said = [(event.kind, event.value) for event in studio.events if event.kind in ("beat", "step")]
    assert said == [("beat", 3), ("step", 7)]


def test_a_long_piece_arrives_whole(studio: Studio):
    studio.ready()
    line = tuple((n * 0.0002, note_on(n % 128) if n % 2 == 0 else note_off((n - 1) % 128)) for n in range(1000))
    before = len(studio.messages())
    studio.clock.play(Performance(line))
    until(lambda: len(studio.messages()) >= before + 1000)
    assert studio.sounding() == set()


def test_a_chord_sounds_until_the_next_and_keeps_common_tones(studio: Studio):
    studio.ready()
    before = len(studio.messages())
    studio.clock.sound([50, 60, 65], [40, 50, 60])
    studio.clock.sound([43, 59, 65], 70, legato=True)
    until(lambda: len(studio.messages()) >= before + 7)
    assert studio.messages()[before:] == [
        note_on(50, 40), note_on(60, 50), note_on(65, 60),
        note_off(50), note_off(60), note_on(43, 70), note_on(59, 70),
    ]  # fmt: skip


def test_a_chord_can_be_given_its_length(studio: Studio):
    studio.ready()
    studio.clock.sound([60], seconds=0.05)
    until(lambda: note_off(60) in studio.messages())


def test_silence_ends_every_note_the_pedal_and_the_playing(studio: Studio):
    studio.ready()
    studio.clock.play(Performance(((0.0, note_on(60)), (0.0, control(64, 127)), (0.3, note_on(61)))))
    until(lambda: note_on(60) in studio.messages())
    studio.clock.silence()
    until(lambda: studio.messages()[-1] == control(120, 0))
    time.sleep(0.4)
    assert studio.messages()[-4:] == [note_off(60), control(64, 0), control(123, 0), control(120, 0)]


def test_panic_reaches_all_sixteen_channels(studio: Studio):
    studio.ready()
    before = len(studio.messages())
    studio.clock.panic()
    until(lambda: len(studio.messages()) >= before + 48)
    assert {data[0] & 0x0F for data in studio.messages()[before:]} == set(range(16))


def test_a_loop_goes_round_until_the_cue_and_leaves_nothing_sounding(studio: Studio):
    studio.ready()
    line = ((0.0, note_on(60)), (0.1, note_off(60)), (0.1, note_on(72)), (0.2, note_off(72)))
    studio.clock.play(Performance(line, (), (Loop(0.0, 0.1),), 0.2))
    until(lambda: studio.messages().count(note_on(60)) >= 3)
    assert note_on(72) not in studio.messages()
    studio.clock.cue()
    until(lambda: any(event.kind == "end" for event in studio.events))
    assert note_on(72) in studio.messages()
    assert studio.sounding() == set()


def test_an_instrument_that_has_been_played_hears_every_300_milliseconds_that_we_are_there(studio: Studio):
    studio.ready()
    time.sleep(0.5)
    assert studio.sensed() == []
    studio.clock.sound([60])
    until(lambda: len(studio.sensed()) > 8)
    gaps = [after - before for before, after in pairwise(studio.sensed())]
    # The middle one: a busy machine may hold one up.
    assert sorted(gaps)[len(gaps) // 2] < 0.3


def test_active_sensing_ends_with_the_clock_and_is_left_when_told(studio: Studio):
    studio.ready()
    studio.clock.sound([60])
    until(lambda: studio.sensed())
    studio.clock.sense(False)
    time.sleep(0.3)
    before = len(studio.sensed())
    time.sleep(0.5)
    assert len(studio.sensed()) == before


def test_active_sensing_is_not_sent_to_copies_that_are_led(studio: Studio):
    studio.plug(PIANO, "Net 1")
    studio.ready()
    studio.clock.open("Net 1", "lead")
    studio.clock.sound([60])
    until(lambda: len(studio.sensed()) > 2)
    lines = (studio.folder / "sent").read_text().split("\n")[:-1]
    assert {line.split("\t")[1] for line in lines if line.endswith("\tfe")} == {PIANO}
