"""Fit the model of `engine/hand/finger_choice` on printed fingerings: python -m tests.bench.fit_fingers

Prints each weight with its standard error, as the table in the module has them, and how often the printed fingering
is the first choice of the model on pieces it has not seen, fold by fold. Needs `printed_fingerings.json` in a folder
`shared/reference` beside the checkout.
"""

import json
from itertools import combinations
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from engine.hand.finger_choice import WEIGHTS, against
from engine.hand.fingering import SLACK
from tests.bench.conditional_logit import Choices, errors, fit, folds, gathered, ranks, unseen

SOURCE = Path(__file__).parents[3] / "shared" / "reference" / "printed_fingerings.json"

REACH = 200.0
"""Millimetres: a ninth, a medium hand of the published tables; editors write for no hand in particular."""

RIDGE, FOLDS = 1.0, 10

Truths = NDArray[np.bool_]

Printed = tuple[str, tuple[int, ...], tuple[int, ...]]
"""Piece, keys ascending, fingers, as the right hand has them."""


def printed(path: Path = SOURCE) -> list[Printed]:
    """Return the printed chords, those of the left hand in their mirror round D4."""
    rows = json.loads(path.read_text(encoding="utf-8"))["chords"]
    return [
        (piece, tuple(keys), tuple(fingers))
        if hand == "right"
        else (piece, tuple(124 - key for key in keys[::-1]), tuple(fingers[::-1]))
        for piece, hand, keys, fingers in rows
    ]


def choices(chords: list[Printed]) -> Choices:
    """Return each chord as a choice among all sets of fingers, weighing as much as it has pairs of neighbours."""
    offers, taken = [], []
    units = [tuple(map(float, row)) for row in np.eye(len(WEIGHTS))]
    for _, keys, fingers in chords:
        sets = list(combinations(range(1, 6), len(keys)))
        asked = np.array([keys], dtype=np.int32), np.array(sets, dtype=np.int32)
        offers.append(np.stack([against(*asked, REACH, unit)[0] for unit in units], axis=1))
        taken.append(sets.index(fingers))
    return gathered(offers, taken, [len(keys) - 1 for _, keys, _ in chords], [piece for piece, _, _ in chords])


def first_and_kept(asked: Choices, seed: int = 0) -> tuple[Truths, Truths]:
    """Return for each chord, by weights fitted on other pieces, whether the printed fingering is the first choice and
    whether it is among those that the engine keeps."""
    costs = unseen(asked, RIDGE, FOLDS, seed)
    over = costs[np.arange(len(asked.taken)), asked.taken] - costs.min(axis=1)
    slack = np.array([SLACK[int(count) + 1] for count in asked.counts])
    return ranks(costs, asked.taken) == 0, over <= slack


def main() -> None:
    chords = printed()
    asked = choices(chords)
    weights = fit(asked, RIDGE)
    for name, value, error in zip(WEIGHTS, weights, errors(asked, weights, RIDGE), strict=True):
        print(f"{name:<30} {value:6.2f} +- {error:.2f}")
    large = asked.counts > 1
    for seed in range(3):
        first, kept = first_and_kept(asked, seed)
        print(f"split {seed}: {_told(first, kept, large)}; {_told(first, kept, ~large)}; fold by fold of the first:")
        for held_back in folds(asked.groups, FOLDS, seed):
            print(f"    {_told(first, kept, held_back & large)}")


def _told(first: Truths, kept: Truths, some: Truths) -> str:
    return f"{some.sum():3} chords: first choice {first[some].mean():6.1%}, kept {kept[some].mean():6.1%}"


if __name__ == "__main__":
    main()
