"""A song's plan: the playable states of each chord and the cheapest path through them.

Needs numpy, and so does whatever imports this module: import it when a plan is first wanted.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache

from engine.planning.loops import cheapest_loop
from engine.planning.model import Plan, Request
from engine.planning.passes import PERSUASIONS, Agreed, agree
from engine.planning.path_cache import Memory
from engine.planning.plan_builder import told
from engine.planning.problem import Problem, pose
from engine.planning.texture_choice import chosen
from engine.planning.weights import GRAIN
from engine.song.model import Step

MEMORY = Memory()
"""What was found for the songs planned last: a change re-plans only what it can touch."""


def plan(steps: Sequence[Step], request: Request = Request()) -> Plan:  # noqa: B008 (frozen)
    """Return the plan of least effort found, exact where it says so.

    A chord without a playable state becomes a step with resting hands and a warning; the rest is planned around it.

    Raises:
        NoGrip: not one chord of the song fits the hands.
    """
    if not steps:
        return Plan((), 0.0, 0.0, True)
    problem, agreed = solved(tuple(steps), request)
    found = told(problem, agreed)
    if not request.pins:
        return found
    _, free_of_pins = solved(tuple(steps), replace(request, pins=()))
    return replace(found, pins_cost=(agreed.cost - free_of_pins.cost) / GRAIN)


@lru_cache(maxsize=16)
def solved(steps: tuple[Step, ...], request: Request) -> tuple[Problem, Agreed]:
    """Return a song's problem and its solution; a few are kept, since a song is asked for again with other pins."""
    song = pose(steps, replace(request, share_passes=request.share_passes and not request.loop))
    if request.loop:
        return chosen(song, _round, MEMORY)
    return chosen(song, _persuaded if request.prove else _agreed, MEMORY)


def _persuaded(problem: Problem) -> Agreed:
    # Every choice of textures that may be the best is bettered before they are compared, as it is where a method is
    # asked for alone: else that could end below what was chosen of all.
    return _agreed(problem, PERSUASIONS)


def _agreed(problem: Problem, persuasions: int = 0) -> Agreed:
    return agree(problem.route, problem.nodes, problem.edges()[:-1], persuasions, MEMORY)


def _round(problem: Problem) -> Agreed:
    edges = problem.edges()
    cost, path = cheapest_loop(problem.nodes, edges[:-1], edges[-1])
    return Agreed(dict(enumerate(path)), cost, cost, cost)
