"""An instrument that comes, goes and comes back, and a built-in sound that cannot be had."""

from tui.audio import BUILT_IN
from tui.playback.instrument_watch import InstrumentWatch, Seen


def test_an_instrument_that_comes_back_is_told_again_and_said_once() -> None:
    watch = InstrumentWatch()
    told = [watch.seen("Loft Organ", ready) for ready in (False, True, True, False, False, True)]
    assert told == [Seen(), Seen(came=True), Seen(), Seen(lost=True), Seen(), Seen(came=True, back=True)]


def test_a_port_that_was_given_up_is_not_lost() -> None:
    watch = InstrumentWatch()
    watch.seen("Loft Organ", True)
    assert watch.seen("", False) == Seen()
    assert watch.seen("Loft Organ", True) == Seen(came=True)


def test_a_mute_built_in_sound_is_said_once_and_while_it_opens_not_at_all() -> None:
    watch = InstrumentWatch()
    assert not watch.seems_mute(BUILT_IN, f"{BUILT_IN}: it is being opened")
    assert not watch.seems_mute("Loft Organ", f"{BUILT_IN}: no output")
    assert [watch.seems_mute(BUILT_IN, f"{BUILT_IN}: no output") for _ in range(2)] == [True, False]
