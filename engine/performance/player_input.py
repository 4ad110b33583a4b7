"""All that comes in from the player: switches become deeds, keys become a hand that is judged, switches are learnt."""

from dataclasses import dataclass, replace

from engine.answer_names import ANSWERS
from engine.performance.listening import Answer, Held, hear_step, next_step, press
from engine.performance.pedal import NOTE, Pressed, Switch, comes_from, feel, learn
from engine.planning.model import PlannedStep

LEARNING = 1.0
"""Seconds after the first message of a switch in which its release must come. Source: own choice."""


@dataclass(frozen=True, slots=True)
class Ears:
    """`switches` are pairs of a switch and the deed it stands for (such as "next"); `learning` the messages heard since
    learning began, with the time of the first, None while nothing is learnt."""

    switches: tuple[tuple[Switch, str], ...] = ()
    pressed: tuple[Pressed, ...] = ()
    held: Held = Held()  # noqa: RUF009
    learning: tuple[tuple[float, bytes], ...] | None = None


def with_switches(*switches: tuple[Switch, str]) -> Ears:
    """Return ears that know these switches."""
    return Ears(switches, tuple(Pressed() for _ in switches))


def hear(ears: Ears, data: bytes, now: float) -> tuple[Ears, tuple[str, ...]]:
    """Return the ears after one message and the deeds it asks for. While learning, nothing is done."""
    if ears.learning is not None:
        return replace(ears, learning=(*ears.learning, (now, data))), ()
    states: list[Pressed] = []
    deeds: list[str] = []
    mine = False
    for (switch, deed), pressed in zip(ears.switches, ears.pressed, strict=True):
        after, counts = feel(switch, pressed, data, now)
        states.append(after)
        deeds += [deed] if counts else []
        mine = mine or (switch.kind == NOTE and comes_from(switch, data))
    # A switch that sends notes is no key of the hand.
    held = ears.held if mine else press(ears.held, data, now)
    return replace(ears, pressed=tuple(states), held=held), tuple(deeds)


def start_learning(ears: Ears) -> Ears:
    """Return ears that take the next switch that is pressed for a new one."""
    return replace(ears, learning=())


def learnt(ears: Ears, deed: str, now: float) -> tuple[Ears, Switch | None]:
    """Return the ears and the switch learnt for `deed`, once LEARNING seconds have passed since it was pressed.

    It takes the place of the switch that had the deed before, and of the deed the same switch had.
    """
    if not ears.learning or now - ears.learning[0][0] < LEARNING:
        return ears, None
    switch = learn(tuple(data for _, data in ears.learning))
    if switch is None:
        return replace(ears, learning=()), None
    kept = tuple(pair for pair in ears.switches if pair[1] != deed and _other(pair[0], switch))
    return replace(with_switches(*kept, (switch, deed)), held=ears.held), switch


def found(ears: Ears, step: PlannedStep, now: float, answers: str = ANSWERS[0]) -> Answer | None:
    """Return how the hand answers a step, as strictly as `answers` (one of ANSWERS) says; None while it is not still or
    has struck nothing for it yet."""
    return hear_step(step, ears.held, now, answers)


def turn_page(ears: Ears) -> Ears:
    """Return ears for the step that begins now: what is held over does not answer it."""
    return replace(ears, held=next_step(ears.held))


def _other(one: Switch, other: Switch) -> bool:
    return (one.kind, one.number, one.channel) != (other.kind, other.number, other.channel)
