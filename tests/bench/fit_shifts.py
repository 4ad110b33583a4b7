"""Weigh what a shift costs on changes that players made: python -m tests.bench.fit_shifts

Each change of the right hand in `right_hand_changes.json` is a choice: among all voicings of the next chord's pitch
classes and size, within 14 semitones and 9 semitones of either chord, the player took one. Prints how often ours is
that one as the weights stand, and what a conditional logit on the same terms gives on songs it has not seen. Needs the
file in a folder `shared/reference` beside the checkout.
"""

import json
from collections.abc import Iterator, Sequence
from itertools import combinations
from pathlib import Path

import numpy as np

from engine.hand.fingering import FREE, Floats, Numbers, fingerings
from engine.planning.hand_states import hand_states
from engine.planning.shift_costs import TUNE, shift_terms
from engine.planning.weights import GRAIN, WEIGHTS
from tests.bench.conditional_logit import Choices, errors, fit, gathered, ranks, unseen

SOURCE = Path(__file__).parents[3] / "shared" / "reference" / "right_hand_changes.json"

WIDEST, FARTHEST = 14, 9
"""Semitones of a chord, and from either chord, as the file's own baseline has it."""

REACH, WAYS = 227.0, 3
"""Millimetres, a tenth; and how many fingerings of each chord are tried."""

TERMS = ("effort of the fingers", "leap", "voices")
"""The costs that are weighed: all of the fingers together, then the two of the notes."""

RIDGE, FOLDS, AT_ONCE = 1.0, 10, 100

Keys = tuple[int, ...]
Change = tuple[str, Keys, list[Keys], int]
"""Song, keys before, what could follow, and the number of what did."""


def changes(path: Path = SOURCE) -> list[Change]:
    """Return the changes of the file with all that the hand could have played."""
    found = []
    for song, _, before, _, after in json.loads(path.read_text(encoding="utf-8"))["changes"]:
        offers = _offers(tuple(before), tuple(after))
        found.append((song, tuple(before), offers, offers.index(tuple(after))))
    return found


def _offers(before: Keys, after: Keys) -> list[Keys]:
    pcs = {key % 12 for key in after}
    lowest, highest = min(before[0], after[0]) - FARTHEST, max(before[-1], after[-1]) + FARTHEST
    near = [key for key in range(lowest, highest + 1) if key % 12 in pcs]
    every = combinations(near, len(after))
    return [keys for keys in every if keys[-1] - keys[0] <= WIDEST and {key % 12 for key in keys} == pcs]


def choices(found: Sequence[Change]) -> Choices:
    """Return the changes as choices by `TERMS`: the effort of the fingers in units of the plan, the others each by
    semitone."""
    costs: list[Floats] = []
    for begin in range(0, len(found), AT_ONCE):
        costs.extend(_costs(found[begin : begin + AT_ONCE]))
    return gathered(costs, [taken for *_, taken in found], [1.0] * len(found), [song for song, *_ in found])


def as_planned(asked: Choices) -> Floats:
    """Return what each offer costs as the weights stand, infinite where there is none."""
    there = np.isfinite(asked.costs[:, :, 0])
    weights = np.array([1.0, WEIGHTS["leap"].value, WEIGHTS["voices"].value])
    return np.where(there, np.where(there[:, :, None], asked.costs, 0.0) @ weights, np.inf)


def best_and_three(costs: Floats, taken: Numbers) -> tuple[float, float]:
    """Return in which part of the changes the player's chord is the cheapest (ties share) and among the three."""
    place = ranks(costs, taken)
    alike = (np.abs(costs - costs[np.arange(len(taken)), taken][:, None]) < 1e-9).sum(axis=1)
    return float(((place == 0) / alike).mean()), float((place < 3).mean())


def _costs(found: Sequence[Change]) -> Iterator[Floats]:
    """Yield for each change what each offer costs by `TERMS`, by its easiest fingers."""
    pairs = [(before, keys) for _, before, offers, _ in found for keys in offers]
    hands = sorted({keys for pair in pairs for keys in pair})
    rows = np.array([(*keys, *(FREE,) * (5 - len(keys))) for keys in hands], dtype=np.int32)
    ways = fingerings(rows, "right", REACH)
    places = {keys: np.flatnonzero(ways.of == number)[:WAYS] for number, keys in enumerate(hands)}
    shifts = [(one, two, pair) for pair, (a, b) in enumerate(pairs) for one in places[a] for two in places[b]]
    befores, afters, of = map(np.array, zip(*shifts, strict=True))
    path = np.stack([befores, afters], axis=1).reshape(-1)
    terms = shift_terms(hand_states(np.ascontiguousarray(ways.under[path].T), "right"), TUNE, "piano")
    notes = [terms.pop(name)[1::2] / GRAIN / WEIGHTS[name].value for name in TERMS[1:]]
    fingers = sum(terms.values())[1::2] / GRAIN + WEIGHTS["grip"].value * ways.points[afters]
    # What no hand can hold is as dear as can be.
    told = np.full((len(pairs), len(TERMS)), 100.0)
    for row in np.lexsort((-fingers, of)):
        told[of[row]] = (fingers[row], *(amount[row] for amount in notes))
    ends = np.cumsum([len(offers) for _, _, offers, _ in found])[:-1]
    yield from np.split(told, ends)


def main() -> None:
    asked = choices(changes())
    print("player's chord cheapest, among the three: {:.1%}, {:.1%} as planned".format(*_now(asked)))
    for seed in range(3):
        told = best_and_three(unseen(asked, RIDGE, FOLDS, seed), asked.taken)
        print("fitted, on unseen songs, split {}: {:.1%}, {:.1%}".format(seed, *told))
    weights = fit(asked, RIDGE)
    for name, value, error in zip(TERMS, weights, errors(asked, weights, RIDGE), strict=True):
        print(f"{name:<24} {value:6.3f} +- {error:.3f}")


def _now(asked: Choices) -> tuple[float, float]:
    return best_and_three(as_planned(asked), asked.taken)


if __name__ == "__main__":
    main()
