"""Which ports are wanted, open, gone and to be asked for again."""

from tui.midi.port_list import PortsSeen
from tui.midi.wanted_ports import WantedPorts

LATER = 1e9


def test_a_port_is_not_asked_for_again_before_there_is_an_answer():
    ports = WantedPorts()
    ports.listed(PortsSeen(("Piano 1",)))
    ports.want("out", "Piano")
    assert ports.missing(LATER) == {"out": "Piano"}
    ports.asked("out", "Piano")
    assert ports.missing(LATER) == {}
    ports.refused("out", "busy")
    assert ports.missing(LATER) == {"out": "Piano"}
    ports.asked("out", "Piano")
    ports.closed()
    assert ports.missing(LATER) == {"out": "Piano"}


def test_what_is_not_listed_any_more_is_lost_and_asked_for_when_it_is_back():
    ports = WantedPorts()
    ports.want("out", "Piano")
    ports.opened("out", "Piano 1")
    assert ports.listed(PortsSeen(("Organ",))) == {"out": "Piano 1"}
    assert ports.missing(LATER) == {}
    assert ports.listed(PortsSeen(("Organ", "Piano 1"))) == {}
    assert ports.missing(LATER) == {"out": "Piano"}


def test_sounds_of_our_own_and_ports_that_are_made_are_never_lost():
    ports = WantedPorts(sinks=["built-in"])
    for role, name in (("out", "built-in"), ("lead", "virtual:stage")):
        ports.want(role, name)
        ports.opened(role, name)
    assert ports.listed(PortsSeen()) == {}
    ports.closed()
    assert ports.missing(LATER) == {"out": "built-in", "lead": "virtual:stage"}


def test_the_same_port_is_asked_for_once_until_it_is_answered_and_another_at_once():
    ports = WantedPorts()
    assert ports.asked("out", "Piano")
    assert not ports.asked("out", "Piano")
    assert ports.asked("out", "Organ")
    ports.opened("out", "Organ 1")
    assert ports.asked("out", "Organ")
    ports.closed()
    assert ports.asked("out", "Organ")
    assert ports.asked("out", "")
    assert ports.asked("out", "")


def test_only_a_port_that_others_have_is_stood_by_for():
    ports = WantedPorts(sinks=["built-in"])
    for name, wanted in (("Piano", True), ("built-in", False), ("virtual:stage", False), ("", False)):
        ports.want("out", name)
        assert ports.wants_midi is wanted
