"""The figures of a folder of lead sheets, on those that come with music21."""

from pathlib import Path

import music21

from tests.outside.lead_sheets import count

CORPUS = Path(music21.__file__).parent / "corpus" / "leadSheet"


def test_every_chord_of_the_lead_sheets_that_come_with_music21_is_carried_in_its_playing_order():
    found = count(CORPUS)
    assert (found.songs, found.refused) == (2, [])
    assert found.carried == found.events > 100
    assert found.equal == found.compared == 2
