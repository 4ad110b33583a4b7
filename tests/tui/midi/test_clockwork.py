"""Messages at their deadlines, marks as they come, and a book of what sounds."""

import time
from itertools import pairwise

from engine.performance.events import Note, control, note_off, note_on, wire
from engine.performance.timeline import Loop, Mark, Performance
from tests.tui.midi.studio import PIANO, Studio, sent
from tests.tui.waiting import until
from tui.midi.port_words import VERBS, short


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


ORGAN, DRUMS = "Organ 1", "Drums 1"


def through(studio: Studio, port: str) -> list[bytes]:
    """Return what was sent through one port, active sensing left aside."""
    lines = [line.split("\t") for line in (studio.folder / "sent").read_text().split("\n")[:-1]]
    return [bytes.fromhex(data) for _, name, data in lines if name == port and data != "fe"]


def with_ports(studio: Studio, **roles: str) -> None:
    studio.plug(PIANO, ORGAN, DRUMS, inputs=("Keys 1",))
    studio.ready()
    for role, port in roles.items():
        studio.clock.open(port, role)
    until(lambda: all(f"{VERBS[role]} {short(port)}" in studio.clock.status for role, port in roles.items()))


def test_two_instruments_sound_the_same(studio: Studio):
    with_ports(studio, beside=ORGAN)
    studio.clock.play(Performance(((0.0, note_on(60)), (0.05, note_off(60)))))
    until(lambda: any(event.kind == "end" for event in studio.events))
    studio.clock.sound([62, 65])
    until(lambda: note_on(65, 76) in through(studio, ORGAN))
    studio.clock.silence()
    until(lambda: through(studio, ORGAN)[-1] == control(120, 0))
    notes = [[data for data in through(studio, port) if data[0] & 0xE0 == 0x80] for port in (PIANO, ORGAN)]
    assert notes[0] == notes[1] == [
        note_on(60), note_off(60), note_on(62, 76), note_on(65, 76), note_off(62), note_off(65),
    ]  # fmt: skip


def test_a_click_with_a_port_of_its_own_leaves_the_instruments_alone(studio: Studio):
    with_ports(studio, click=DRUMS)
    click, chord = note_on(76, 100, 10), note_on(60)
    studio.clock.play(Performance(((0.0, click), (0.0, chord), (0.05, note_off(76, 10)), (0.05, note_off(60)))))
    until(lambda: any(event.kind == "end" for event in studio.events))
    assert click in through(studio, DRUMS)
    assert chord not in through(studio, DRUMS)
    assert click not in through(studio, PIANO)
    assert chord in through(studio, PIANO)


def test_a_message_for_one_port_reaches_no_other(studio: Studio):
    with_ports(studio, beside=ORGAN, click=DRUMS)
    studio.clock.send([control(7, 90, 10)], "click")
    studio.clock.send([control(7, 50)], "out")
    until(lambda: control(7, 90, 10) in through(studio, DRUMS) and control(7, 50) in through(studio, PIANO))
    assert {control(7, 90, 10), control(7, 50)}.isdisjoint(through(studio, ORGAN))


def test_what_is_played_is_passed_on_and_still_heard(studio: Studio):
    with_ports(studio, **{"in": "Keys 1", "thru": ORGAN})
    bend = bytes((0xE0, 0, 80))
    studio.play("Keys 1", note_on(60, 99), bend, note_off(60))
    until(lambda: note_off(60) in through(studio, ORGAN))
    assert [data for data in through(studio, ORGAN) if data[0] & 0xF0 != 0xB0] == [note_on(60, 99), bend, note_off(60)]
    assert note_on(60, 99) not in through(studio, PIANO)
    until(lambda: [event.data for event in studio.events if event.kind == "in"] == [note_on(60, 99), note_off(60)])


def test_a_stop_leaves_the_players_own_note_and_panic_ends_it(studio: Studio):
    with_ports(studio, **{"in": "Keys 1", "thru": ORGAN})
    studio.clock.sound([48])
    studio.play("Keys 1", note_on(60, 99))
    until(lambda: note_on(60, 99) in through(studio, ORGAN))
    studio.clock.silence()
    until(lambda: note_off(48) in through(studio, PIANO))
    time.sleep(0.1)
    assert note_off(60) not in through(studio, ORGAN)
    studio.clock.panic()
    until(lambda: note_off(60) in through(studio, ORGAN))


def test_one_port_for_click_and_chords_is_opened_once_and_goes_on_for_the_other(studio: Studio):
    studio.plug(PIANO)
    studio.ready()
    studio.clock.open("Piano", "click")
    until(lambda: "clicks on" in studio.clock.status)
    studio.clock.open(None, "click")
    studio.clock.sound([60])
    until(lambda: note_on(60, 76) in studio.messages())


def test_another_performance_goes_on_from_the_next_step_and_strikes_no_note_of_the_first(studio: Studio):
    studio.ready()
    steps = tuple(Mark(number * 0.5, "step", number) for number in range(3))

    def chords(*keys: int) -> Performance:
        notes = tuple(Note(number * 0.5, key, 0.5) for number, key in enumerate(keys))
        return Performance(wire(notes), steps, (), 1.5)

    studio.clock.play(chords(60, 62, 64))
    until(lambda: note_on(60) in studio.messages())
    studio.clock.mute()
    until(lambda: not studio.sounding(), 0.4)
    studio.clock.go_on(chords(61, 63, 65))
    until(lambda: any(event.kind == "end" for event in studio.events))
    assert [data[1] for data in studio.messages() if data[0] == 0x90] == [60, 63, 65]
    assert not studio.sounding()
