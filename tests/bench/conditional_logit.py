"""A conditional logit with a ridge: the weights of a choice among several, and how well they foretell unseen choices.

Source of the model: McFadden, "Conditional logit analysis of qualitative choice behavior" (1974). The standard errors
take all choices of one group (a piece, a song) as one draw, since they are alike: Liang and Zeger, "Longitudinal data
analysis using generalized linear models", Biometrika 73 (1986).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Choices:
    """n choices among at most c offers of m costs each. `costs`: n x c x m, infinite where a choice has fewer offers;
    `taken`: n, the offer that was chosen; `counts`: n, how much a choice weighs; `groups`: n, the piece or song."""

    costs: Floats
    taken: NDArray[np.intp]
    counts: Floats
    groups: NDArray[np.str_]

    def part(self, some: NDArray[np.bool_]) -> "Choices":
        return Choices(self.costs[some], self.taken[some], self.counts[some], self.groups[some])


def gathered(offers: Sequence[Floats], taken: Sequence[int], counts: Sequence[float], groups: Sequence[str]) -> Choices:
    """Return choices of different sizes (each offers x m) as one."""
    costs = np.full((len(offers), max(map(len, offers)), offers[0].shape[1]), np.inf)
    for row, offered in zip(costs, offers, strict=True):
        row[: len(offered)] = offered
    return Choices(costs, np.array(taken), np.array(counts, dtype=float), np.array(groups))


def chances(choices: Choices, weights: Floats) -> Floats:
    """Return how likely each offer is, n x c; 0.0 where there is none."""
    there = np.isfinite(choices.costs[:, :, 0])
    odds = np.where(there, -(np.where(there[:, :, None], choices.costs, 0.0) @ weights), -np.inf)
    likely = np.exp(odds - odds.max(axis=1, keepdims=True))
    return likely / likely.sum(axis=1, keepdims=True)


def fit(choices: Choices, ridge: float, least: float | None = None) -> Floats:
    """Return the weights of the costs; none is under `least`, where that is given."""
    rows = np.arange(len(choices.taken))
    known = np.where(np.isfinite(choices.costs), choices.costs, 0.0)

    def loss(weights: Floats) -> tuple[float, Floats]:
        likely = chances(choices, weights)
        lost = -(choices.counts * np.log(likely[rows, choices.taken])).sum() + ridge * weights @ weights / 2
        slope = known[rows, choices.taken] - (likely[:, :, None] * known).sum(axis=1)
        return lost, choices.counts @ slope + ridge * weights

    start = np.zeros(known.shape[2])
    bounds = None if least is None else [(least, None)] * len(start)
    return minimize(loss, start, jac=True, method="L-BFGS-B", bounds=bounds, options={"ftol": 1e-12}).x


def errors(choices: Choices, weights: Floats, ridge: float) -> Floats:
    """Return the standard error of each weight."""
    rows = np.arange(len(choices.taken))
    known, likely = np.where(np.isfinite(choices.costs), choices.costs, 0.0), chances(choices, weights)
    mean = (likely[:, :, None] * known).sum(axis=1)
    spread = np.einsum("n,nc,nci,ncj->ij", choices.counts, likely, known, known)
    spread += ridge * np.eye(len(weights)) - np.einsum("n,ni,nj->ij", choices.counts, mean, mean)
    slope = (known[rows, choices.taken] - mean) * choices.counts[:, None]
    sums = np.array([slope[choices.groups == group].sum(axis=0) for group in np.unique(choices.groups)])
    inverse = np.linalg.inv(spread)
    return np.sqrt(np.diag(inverse @ (sums.T @ sums) @ inverse))


def folds(groups: NDArray[np.str_], count: int, seed: int) -> list[NDArray[np.bool_]]:
    """Return which choices each fold holds back: whole groups, dealt out by chance."""
    names = np.unique(groups)
    np.random.default_rng(seed).shuffle(names)
    return [np.isin(groups, names[fold::count]) for fold in range(count)]


def unseen(choices: Choices, ridge: float, count: int, seed: int, least: float | None = None) -> Floats:
    """Return the costs of all offers (n x c), each by weights fitted without its fold; infinite where is none."""
    costs = np.full(choices.costs.shape[:2], np.inf)
    for held_back in folds(choices.groups, count, seed):
        weights = fit(choices.part(~held_back), ridge, least)
        there = np.isfinite(choices.costs[held_back][:, :, 0])
        told = np.where(there[:, :, None], choices.costs[held_back], 0.0) @ weights
        costs[held_back] = np.where(there, told, np.inf)
    return costs


def ranks(costs: Floats, taken: NDArray[np.intp]) -> NDArray[np.intp]:
    """Return how many offers each choice has that are cheaper than the one that was taken."""
    return (costs < costs[np.arange(len(taken)), taken][:, None] - 1e-9).sum(axis=1)
