import pytest

from tui.midi.ports import foreign, matching, not_found

NAMES = ["Midi Through:Midi Through Port-0 14:0", "Piano:Piano MIDI 1 20:0", "synth:midi_00"]


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ("synth:midi_00", "synth:midi_00"),
        ("Piano:Piano MIDI 1 28:0", "Piano:Piano MIDI 1 20:0"),
        ("Piano:Piano MIDI 1", "Piano:Piano MIDI 1 20:0"),
        ("piano", "Piano:Piano MIDI 1 20:0"),
        ("midi", None),
        ("Strings", None),
        ("", None),
        (" ", None),
    ],
)
def test_a_port_is_found_by_its_name_under_any_address_or_by_a_part_that_only_it_has(wanted, found):
    assert matching(wanted, NAMES) == found


def test_of_two_equal_devices_the_address_chooses():
    twins = ["Piano:Piano MIDI 1 20:0", "Piano:Piano MIDI 1 24:0"]
    assert matching("Piano:Piano MIDI 1 24:0", twins) == twins[1]


def test_our_own_clients_are_no_instruments_but_another_copy_that_leads_is():
    names = ["stillhand:out", "stillhand-01:in", "stillhand looks:x", "stillhand leads:stage", "stillhandpiano:x"]
    assert foreign(names) == ["stillhand leads:stage", "stillhandpiano:x"]


def test_a_name_that_fits_no_port_or_several_is_answered_with_what_there_is():
    assert not_found("Strings", ["Piano:Piano MIDI 1 20:0"], ["ALSA"]) == (
        "it is not connected; there is Piano:Piano MIDI 1 (ALSA)"
    )
    assert not_found("midi", NAMES[:2], []) == (
        "it could be Midi Through:Midi Through Port-0, Piano:Piano MIDI 1: say which"
    )
    assert not_found("Strings", [], ["ALSA", "Jack"]) == "it is not connected; there is no port (ALSA and Jack)"
