"""What everything costs: the one table of the effort's weights.

An effort of 1.0 is what one finger spends on moving one semitone (an octave's twelfth, 13.7 mm). All plans are made
in whole thousandths of it, so that sums are exact and ties fall the same way on every machine.
"""

from dataclasses import dataclass

GRAIN = 1000
"""Steps in one effort."""


@dataclass(frozen=True, slots=True)
class Weight:
    """`value` is effort per `unit`; `source` names whose figure it is, or "own choice"."""

    value: float
    unit: str
    source: str


OWN = "own choice"
PRACTICE = "common practice; weight own choice"
PLAYERS = "common practice; weight own choice, checked on what players did: see `FITTED`"
FITTS = "Fitts 1954, see hand/fitts"

WEIGHTS: dict[str, Weight] = {
    # a shift, per hand
    "travel": Weight(1.0, "bit of aiming by arm and fingers: log2 of twice the distance over a key's width", FITTS),
    "strike": Weight(0.4, "finger that moves at all", OWN),
    "landing": Weight(0.5, "free finger put down", OWN),
    "lift": Weight(0.2, "finger taken away", OWN),
    "refinger": Weight(0.5, "key passed to another finger", OWN),
    "legato": Weight(1.0, "slide that breaks a legato, times the sound's need of it", OWN),
    "leap": Weight(0.6, "semitone beyond a whole step in the top note, heard as a tune", PLAYERS),
    "voices": Weight(0.25, "semitone from the nearest note before, in the hand on top", PLAYERS),
    "jump": Weight(1.0, "semitone beyond a fifth in the top note, on top of its leap", PRACTICE),
    "count": Weight(1.0, "key more or fewer in a hand than before", OWN),
    "change": Weight(3.0, "change of texture from one section to the next", OWN),
    "pattern": Weight(1.0, "effort of the shifts and grips inside a left hand's pattern", OWN),
    "tune": Weight(1.0, "effort of the shifts and grips of the player's own tune while a chord lasts", OWN),
    "lead": Weight(12.0, "walking line that does not come by a half or a whole step into the next bass", PRACTICE),
    "leave": Weight(12.0, "chord for which a section's texture is left", OWN),
    # a chord as it stands
    "grip": Weight(0.6, "point of discomfort", "points see hand/fingering; weight " + OWN),
    "mud": Weight(1.6, "semitone below the low interval limits", "limits see ear/limits; weight " + OWN),
    "zone": Weight(0.3, "semitone outside the hand's zone, per note", "zones see lineup; weight " + OWN),
    "pull": Weight(0.03, "semitone from the middle of the zone", OWN),
    "line": Weight(0.35, "semitone of the top note outside its region, see lineup", OWN),
    "over": Weight(4.0, "semitone of the top note from being below a tune that somebody else has", PRACTICE),
    "rub": Weight(3.0, "minor ninth of ours against a held note of that tune; a semitone is three", PRACTICE),
    "doubling": Weight(1.5, "doubled third, seventh or altered tone", PRACTICE),
    "ninth": Weight(2.5, "minor ninth between voices, but over a dominant's root", PRACTICE),
    "gap": Weight(0.1, "semitone beyond an octave between the hands", OWN),
    "omission": Weight(1.6, "perfect fifth left out of fewer different notes than fill a chord", OWN),
    "bassist": Weight(0.7, "root of ours beside a bass player", PRACTICE),
    "plain": Weight(1.2, "chord without a tension, where colours are wanted", OWN),
    "thin": Weight(0.6, "note fewer than fill a chord", OWN),
    "unasked": Weight(8.0, "tension that nobody asked for, while colour is off", OWN),
    "untold": Weight(1.5, "third, seventh or asked tension left to the tune, or left out for it", OWN),
    "under": Weight(1.0, "note of the left hand beyond one, while the right has its own tune over the chord", PRACTICE),
    "ending": Weight(4.0, "last chord of a song whose lowest note is not its bass", PRACTICE),
}  # fmt: skip

LEGATO = {"piano": 0.0, "pad": 0.5, "organ": 1.0}
"""How much legato by finger matters. Source: common practice, the pedal bridges on a piano, nothing on an organ."""

FREE_LEAP, FREE_JUMP = 2, 7
"""Semitones that the top note moves for nothing, a tune goes by step; and those from which a leap is rare."""

FITTED: dict[str, tuple[float, float]] = {
    "effort of the fingers": (0.050, 0.027), "leap": (0.212, 0.052), "voices": (0.240, 0.032),
}  # fmt: skip
"""Log odds against a shift for each unit of the fingers' effort (travel to refinger, and grip), for each semitone of
`leap` and of `voices`, with their standard errors, songs taken as wholes.

Source: `python -m tests.bench.fit_shifts`, a conditional logit on 4,098 changes of the right hand in 108 songs by
professional players (POP909, Wang et al., ISMIR 2020). Of all voicings that could follow, the players' is the cheapest
in 58.4 % by the weights above and in 60 % by the fit on songs it has not seen (ten folds), among the three cheapest in
95.6 and 95.4 %; 19 % would be right by chance. The fit has the notes weigh more against the fingers, though which
fingers the players took is not known; the weights do not follow it, since a hand that rests pays for no notes, and so
weighed a right hand falls silent where it should go on.
"""


def grains(term: str, amount: float) -> int:
    """Return the cost of `amount` units of a term in whole grains."""
    return round(WEIGHTS[term].value * GRAIN * amount)
