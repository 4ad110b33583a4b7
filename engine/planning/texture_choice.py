"""Which texture each section holds: sections are weighed as wholes, and the song with what was chosen.

What a section costs by itself in a texture can only grow where its neighbours and its other passes have their say: so
it bounds the whole, and most choices need no planning. The answer is the best of: the cheapest texture of each section;
the same within one method; one texture throughout. Those of a single method are among those of all, so no method alone
is ever cheaper.
"""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from itertools import pairwise

from engine.planning.cheapest import cheapest
from engine.planning.passes import Agreed
from engine.planning.path_cache import Memory
from engine.planning.problem import Leg, Open, Problem, edges_between
from engine.voicing.textures import Texture

Choice = Mapping[str, Texture]
"""Section -> the texture it holds."""

Solve = Callable[[Problem], Agreed]


def chosen(song: Open, solve: Solve, memory: Memory) -> tuple[Problem, Agreed]:
    """Return the song with its textures chosen and what `solve` finds for it; ties fall to the earlier choice."""
    weights = _Weights(song, memory)
    every, *others = _groups(song)
    best = _tried(song, solve, {section: weights.best(section, every) for section in weights.of})
    for group in others:
        if weights.bound({section: weights.likeliest(section, group) for section in weights.of}) >= best[1].cost:
            continue
        choice = {section: weights.best(section, group) for section in weights.of}
        if weights.bound(choice) < best[1].cost:
            best = min(best, _tried(song, solve, choice), key=lambda one: one[1].cost)
    return best


def _tried(song: Open, solve: Solve, choice: Choice) -> tuple[Problem, Agreed]:
    problem = song.holding(choice)
    return problem, solve(problem)


def _groups(song: Open) -> list[tuple[Texture, ...]]:
    """Return all textures that the song may hold, those of each method, and each by itself."""
    every = tuple(dict.fromkeys(texture for options in song.stages for texture in options))
    methods = [tuple(one for one in every if one.method == name) for name in dict.fromkeys(one.method for one in every)]
    return list(dict.fromkeys([every, *methods, *((one,) for one in every)]))


class _Weights:
    """What each section costs by itself in each texture, a lower bound first and the least cost when it matters."""

    def __init__(self, song: Open, memory: Memory) -> None:
        self.song, self.memory = song, memory
        self.of: dict[str, Counter[tuple[int, ...]]] = {}
        starts = [visit for visit, step in enumerate(song.steps) if step.section_start or visit == 0]
        for begin, end in pairwise([*starts, len(song.steps)]):
            self.of.setdefault(song.steps[begin].section, Counter())[song.route[begin:end]] += 1
        self._bounds: dict[tuple[str, Texture], int] = {}
        self._exact: dict[tuple[str, Texture], int] = {}

    def bound(self, choice: Choice) -> int:
        """Return what no plan with this choice can go below."""
        return sum(self._least(section, texture) for section, texture in choice.items())

    def likeliest(self, section: str, group: Iterable[Texture]) -> Texture:
        """Return the texture of a group with the lowest bound."""
        return min(self._own(section, group), key=lambda texture: self._least(section, texture))

    def best(self, section: str, group: Iterable[Texture]) -> Texture:
        """Return the texture of a group in which the section costs least; where it may have none of them, of all."""
        options = sorted(self._own(section, group), key=lambda texture: self._least(section, texture))
        best = options[0]
        for texture in options[1:] if len(options) > 1 else []:
            if self._least(section, texture) < self._cost(section, best) > self._cost(section, texture):
                best = texture
        return best

    def _own(self, section: str, group: Iterable[Texture]) -> tuple[Texture, ...]:
        options = self.song.textures(section)
        return tuple(texture for texture in group if texture in options) or options

    def _least(self, section: str, texture: Texture) -> int:
        """Return the least cost where it is known, else a bound: what the chords cost as they stand."""
        asked = section, texture
        if asked in self._exact:
            return self._exact[asked]
        if asked not in self._bounds:
            self._bounds[asked] = sum(
                times * sum(int(self.song.stages[number][texture].node.min()) for number in run)
                for run, times in self.of[section].items()
            )
        return self._bounds[asked]

    def _cost(self, section: str, texture: Texture) -> int:
        """Return the least cost of the section's runs, each by itself."""
        asked = section, texture
        if asked not in self._exact:
            self._exact[asked] = sum(
                times * self._run(section, run, texture) for run, times in self.of[section].items()
            )
        return self._exact[asked]

    def _run(self, section: str, run: tuple[int, ...], texture: Texture) -> int:
        stages = [self.song.stages[number][texture] for number in run]
        request = self.song.request.within(section)
        legs = [Leg(one.states, two.states, False, request) for one, two in pairwise(stages)]
        return cheapest([stage.node for stage in stages], edges_between(legs), self.memory.arrival)[0]
