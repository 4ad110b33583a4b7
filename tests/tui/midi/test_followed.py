"""A leader's place is sent and heard."""

from engine.performance.following import CLOCK, START, place_messages
from engine.performance.timeline import Performance
from tests.tui.midi.studio import PIANO, Studio
from tests.tui.waiting import until


def test_a_leaders_place_is_followed(studio: Studio):
    studio.plug(PIANO, inputs=("Net 1",))
    studio.clock.start()
    studio.clock.open("Net 1", "follow")
    until(lambda: studio.clock.status == "follows Net 1")
    studio.play("Net 1", *place_messages(3, 32), bytes((START,)), *[bytes((CLOCK,))] * 13)
    until(lambda: any(event.place and event.place.sixteenth == 2 for event in studio.events))
    first = next(event.place for event in studio.events if event.place and event.place.sixteenth == 32)
    assert first.song == 3


def test_a_leader_repeats_its_place_for_those_who_come_late(studio: Studio):
    studio.ready()
    studio.clock.open("Piano", "lead")
    studio.clock.lead(2, 64)
    until(lambda: studio.messages().count(place_messages(2, 64)[1]) >= 2, 4)


def test_stopping_a_leader_stops_its_followers(studio: Studio):
    studio.ready()
    studio.clock.open("Piano", "lead")
    studio.clock.play(Performance(((0.0, bytes((START,))), (9.0, bytes((CLOCK,))))))
    until(lambda: bytes((START,)) in studio.messages())
    studio.clock.silence()
    until(lambda: bytes((0xFC,)) in studio.messages())
