"""The player's own keyboard and foot switches: what is held, how it answers the chord, what a switch asks for."""

from dataclasses import replace
from typing import TYPE_CHECKING

from engine.answer_names import ANSWERS
from engine.performance import player_input as hearing
from engine.performance.listening import Answer, Found, answered, lateness, settled
from engine.performance.pedal import read_switch, switch_words
from engine.performance.player_input import Ears, with_switches
from engine.planning.model import PlannedStep
from engine.song.writing import pitch
from engine.theory.pitch import spelled
from tui.planning.plans import Plans
from tui.session import rehearsal as stand
from tui.session.session import Session

if TYPE_CHECKING:
    from tui.persistence.player import Player

SWITCHES = {"pedal": "next", "pedal_back": "back", "pedal_cue": "cue"}
"""Setting of the player's -> what the switch does."""

EARLY = 0.3
"""Seconds before a step in which a chord that is struck answers it already (own choice: hands run ahead of feet)."""

WORDS = {
    Found.EXACT: "found", Found.ELSEWHERE: "found elsewhere", Found.TURNED: "other bass", Found.EXTRA: "too many",
    Found.ADDED: "found, with octaves or root", Found.OWN: "found, your own voicing", Found.MISSING: "missing",
    Found.WRONG: "wrong", Found.NOTHING: "",
}  # fmt: skip


class Hands:
    """Judges what is held against the plan. `steps_on` lets the stand step when the coming chord has been found;
    `answers` (one of ANSWERS) says what counts as found."""

    def __init__(self, session: Session, plans: Plans) -> None:
        self.session, self.plans = session, plans
        self.ears = Ears()
        self.steps_on = False
        self.answers = ANSWERS[0]
        self.word = ""
        self.found = False
        self.learns = ""
        self._late: dict[int, float] = {}

    @property
    def held(self) -> tuple[int, ...]:
        """The keys that are down, low to high."""
        return tuple(sorted(self.ears.held.keys))

    def use(self, player: "Player") -> None:
        """Take the switches and the way of stepping from the player's settings."""
        pairs = [(getattr(player, name), deed) for name, deed in SWITCHES.items()]
        known = with_switches(*((read_switch(words), deed) for words, deed in pairs if words))
        self.ears = replace(known, held=self.ears.held)
        self.steps_on = player.hands_step
        self.answers = player.answers

    # Coming in

    def hear(self, data: bytes, at: float) -> tuple[str, ...]:
        """Take one MIDI message that came at `at` seconds; return what it asks for: next, back, cue."""
        self.ears, deeds = hearing.hear(self.ears, data, at)
        return deeds

    def still(self, now: float) -> bool:
        """True when no key has gone down for a moment."""
        return self.ears.held.newest is None or settled(self.ears.held, now)

    def judge(self, now: float, due: float | None = None) -> None:
        """Say how the hand answers the chord, once it is still; `due` is when the step began in time."""
        plan = self.plans.current
        held = self.ears.held
        if plan is None or self.session.now.at_end or self.ears.learning is not None or not settled(held, now):
            return
        # In time the music steps, not the hands.
        if self.steps_on and due is None and self.found and self._goes_on(plan.steps):
            return
        step = self.session.now.step
        answer = hearing.found(self.ears, plan.steps[step], now, self.answers)
        # What is struck after a chord was found is judged again; what is only let go is not.
        if answer is None or (self.found and not held.struck):
            return
        if due is not None and not answer.accepted and self._is_early(plan.steps[step + 1 : step + 2]):
            return
        first = not self.found
        self.found = answer.accepted
        self.word = answer_words(answer, plan.steps[step])
        if not first:
            return
        late = lateness(due, held) if due is not None and self.found else None
        if late is not None:
            self.word += f" {late:+.2f} s"
            self._late[self.session.now.step] = late
        if self.found:
            self.ears = hearing.turn_page(self.ears)

    def _is_early(self, coming: tuple[PlannedStep, ...]) -> bool:
        """True when the hand holds the chord that comes next."""
        return any(answered(step, self.ears.held, self.answers).accepted for step in coming)

    def _goes_on(self, steps: tuple[PlannedStep, ...]) -> bool:
        """Step to the next chord that has keys when the hand holds it, or say what is missing; False without one."""
        then = stand.forward(self.session.now)
        while then is not self.session.now and not then.at_end and then.song == self.session.now.song:
            if steps[then.step].keys or then.step == self.session.now.step:
                break
            then = stand.forward(then)
        if then.at_end or then.song != self.session.now.song or not self.ears.held.struck:
            return False
        answer = answered(steps[then.step], self.ears.held, self.answers)
        if not answer.accepted:
            self.word = answer_words(answer, steps[then.step], "next: ")
            return True
        self.session.become(then)
        self.found, self.word = True, WORDS[answer.found]
        self.ears = hearing.turn_page(self.ears)
        return True

    def stepped(self, now: float) -> None:
        """The stand has stepped: what was struck long before does not answer the new chord."""
        self.found, self.word = False, ""
        newest = self.ears.held.newest
        if newest is None or now - newest > EARLY:
            self.ears = hearing.turn_page(self.ears)

    def heard_late(self) -> dict[int, float]:
        """Return what was heard since this was last asked: step -> seconds by which its last finger came late."""
        heard, self._late = self._late, {}
        return heard

    # Learning a switch

    def learn(self, setting: str) -> None:
        """Take the next switch that is pressed for a setting such as "pedal"; "" gives it up."""
        self.learns = setting
        self.ears = hearing.start_learning(self.ears) if setting else replace(self.ears, learning=None)

    def learnt(self, now: float) -> tuple[str, str] | None:
        """Return (setting, switch in words) once a switch has been pressed and let go."""
        if not self.learns:
            return None
        self.ears, switch = hearing.learnt(self.ears, SWITCHES[self.learns], now)
        if switch is None:
            return None
        setting, self.learns = self.learns, ""
        return setting, switch_words(switch)


def answer_words(answer: Answer, step: PlannedStep, before: str = "") -> str:
    """Return how the hand answers a step, in the names its chord and key give: `missing Ab3`, `too many Ab3 (root)`."""
    word = WORDS[answer.found]
    named = {note.key: str(note.name) for note in step.left + step.right}
    if answer.found in (Found.MISSING, Found.WRONG) and answer.missing and not answer.wrong:
        word += " " + " ".join(named.get(key, pitch(key, step.step.key)) for key in answer.missing[:3])
    elif answer.wrong:
        word += " " + " ".join(_named(key, step) for key in answer.wrong[:3])
    return f"{before}{word}" if word else ""


def _named(key: int, step: PlannedStep) -> str:
    """Return a key's name as the chord spells it, the root marked as such, else as music in the key does."""
    chord = step.step.chord
    names = {tone.name.pc: tone.name for tone in chord.tones} if chord is not None else {}
    if key % 12 not in names:
        return pitch(key, step.step.key)
    root = " (root)" if chord is not None and key % 12 == chord.root.pc else ""
    return f"{spelled(key, names[key % 12])}{root}"
