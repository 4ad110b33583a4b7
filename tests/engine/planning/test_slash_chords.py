"""Slash chords as planned: the whole chord sounds over the written bass, whoever plays that, and nothing blurs."""

import pytest

from engine.ear.limits import muddiness
from engine.method_names import METHOD_CHOICES
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.transposing import shifted
from engine.song.unfolding import unfold

SLASHES = ("C/G", "D/F#", "Am/G", "Eb/G", "D/C", "F/G")
KEYS = range(-6, 6)
"""Fifths from the written chord to each of the twelve keys."""


def in_every_key(request):
    for symbol in SLASHES:
        song = song_from_chart(f"| {symbol} |")
        for fifths in KEYS:
            yield from plan(unfold(shifted(song, fifths, "C")), request).steps


@pytest.mark.parametrize("bass", [False, True])
@pytest.mark.parametrize("method", METHOD_CHOICES)
def test_a_slash_chord_sounds_whole_over_its_bass_and_clear_in_every_method_and_key(method, bass):
    for step in in_every_key(Request(method=method, bass=bass)):
        chord = step.step.chord
        assert {tone.pc for tone in chord.tones} <= {key % 12 for key in step.keys}, step.step.symbol
        assert step.left
        assert step.right
        # The published limits are a guide: their tables differ by a semitone for the fourth.
        assert muddiness(step.keys, chord.bass.pc if bass else None) <= 1, step.step.symbol
        assert bass or step.keys[0] % 12 == chord.bass.pc


def test_a_left_hand_beside_a_bass_player_keeps_clear_of_a_bass_a_step_below_the_root(planned):
    # Common practice: a second below E-flat 3 blurs, so D stays off the bass player's C3 and the fifth lies there.
    (step,) = planned("D/C", bass=True).steps
    assert step.left[0].key >= 54
    assert step.warnings == ()
