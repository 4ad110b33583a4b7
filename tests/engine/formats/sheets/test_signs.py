import pytest

from engine.formats.sheets.signs import printed, printed_key, tempo_sign


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        ("Bbm7b5", "B♭m7♭5"), ("C7b9#11", "C7♭9♯11"), ("F#m7/C#", "F♯m7/C♯"), ("Bb/Ab", "B♭/A♭"), ("Cdim7", "Cdim7"),
        ("Bbbdim", "B♭♭dim"), ("Csub", "Csub"), ("N.C.", "N.C."), ("G7sus4", "G7sus4"), ("Ebb13", "E♭♭13"),
    ],
)  # fmt: skip
def test_flats_and_sharps_are_printed_with_their_own_signs(written, shown):
    assert printed(written) == shown


def test_a_key_is_printed_as_a_heading():
    assert [printed_key(key) for key in ("Eb", "Cm", "F#m")] == ["E♭", "C minor", "F♯ minor"]


def test_the_dotted_quarter_beats_in_compound_meters():
    assert (tempo_sign(False), tempo_sign(True)) == ("♩", "♩.")
