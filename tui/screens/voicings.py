"""Other voicings of a chord: looked for, shown with their price, chosen with up and down, pinned."""

from dataclasses import replace
from typing import Any

from textual import events

from engine.errors import EngineError
from engine.planning.model import PlannedStep
from engine.song.model import Pin
from tui.input.prompts import Prompt
from tui.screens.asking import Asking
from tui.session import decisions
from tui.session.rehearsal import Rehearsal
from tui.session.session import in_a_line
from tui.widgets.lettering import pretty, written

CHOOSING = ("up", "down")
"""Keys that choose a voicing."""


class ChoosingVoicings(Asking):
    """A screen that offers other voicings of the chord it calls `chord_in_question`."""

    choices: tuple[Any, ...] = ()
    _about: object = None
    """What tells the chord whose voicings were looked for last from any other one."""

    def chord_in_question(self) -> int | None:
        """Return the step whose chord may get another voicing, None where there is none."""
        raise NotImplementedError

    def look_for_voicings(self) -> None:
        """Ask which voicing it is to be, as soon as they are found."""
        index = self.chord_in_question()
        if index is None:
            self.session.say("no chord is coming", alarm=True)
            return
        self.session.say("looking for other voicings ...")
        self._about = self._asked_about()
        self.run_worker(self._find(index, self._about), exclusive=True, group="other")

    def takes(self, event: events.Key) -> bool:
        """Up and down are for the voicings as soon as they are looked for: before they are there they do nothing."""
        return (event.key in CHOOSING and self._looking()) or super().takes(event)

    def _looking(self) -> bool:
        if self.prompt is not None or self._about is None or self._about != self._asked_about():
            return False
        return any(one.node is self and one.group == "other" and not one.is_finished for one in self.workers)

    def _asked_about(self) -> object:
        """Return what tells the chord in question from any other one."""
        now, index = self.session.now, self.chord_in_question()
        return None if index is None else (now.song, now.steps[index : index + 1], index)

    async def _find(self, index: int, about: object) -> None:
        # Another song may be open by now, and again when the answer comes.
        if self._asked_about() != about:
            return
        try:
            self.choices = tuple(await self.context.plans.alternatives(index))
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
            return
        if self._asked_about() != about:
            return
        if not self.choices:
            self.session.say("no other voicing fits the hands", alarm=True)
            return
        self.ask(self.changed(Prompt("other", self.session.now.song, subject=str(index))))

    def changed(self, prompt: Prompt) -> Prompt:
        plan = self.context.plans.current
        step = plan.steps[int(prompt.subject)] if plan and prompt.kind == "other" else None
        planned = tuple(note.key for note in (*step.left, *step.right)) if step else ()
        return chosen_words(prompt, self.choices, self.session.now, planned)

    @property
    def tried(self) -> PlannedStep | None:
        """The chord in question in the voicing that up and down have chosen, None while none is asked about."""
        plan, prompt = self.context.plans.current, self.prompt
        if plan is None or prompt is None or prompt.kind != "other" or not self.choices:
            return None
        from engine.planning.instead import instead

        index, one = int(prompt.subject), self.choices[-prompt.choice % len(self.choices)]
        before = plan.steps[index - 1] if index else None
        hands = (one.left, one.left_fingers), (one.right, one.right_fingers)
        return instead(before, plan.steps[index], *hands)

    def pinned(self, prompt: Prompt) -> Rehearsal:
        """Return the rehearsal with the chosen voicing pinned."""
        pin = chosen_pin(prompt, self.choices, self.session.now)
        return decisions.pinned(self.session.now, pin, pin.section, pin.bar, pin.beat)


def chosen_words(prompt: Prompt, choices: tuple[Any, ...], now: Rehearsal, planned: tuple[int, ...] = ()) -> Prompt:
    """Return the question with the chosen voicing: its notes, and what it costs the song. Up and down choose.

    `planned` are the keys of the voicing as planned.
    """
    if prompt.kind != "other" or not choices:
        return prompt
    place = -prompt.choice % len(choices)
    one = choices[place]
    names = tuple(map(pretty, one.names))
    left, right = " ".join(names[: len(one.left)]), " ".join(names[len(one.left) :])
    symbol = written(now.steps[int(prompt.subject)].symbol)
    price = round(one.price, 1)
    cost = f"costs {abs(price):.1f} {'more' if price > 0 else 'less'}" if price else "costs nothing more"
    cost = "as planned" if (*one.left, *one.right) == planned else cost
    words = f"{symbol} {place + 1}/{len(choices)}  L {left or '-'}  R {right or '-'}  {cost}"
    return replace(prompt, question=words)


def chosen_pin(prompt: Prompt, choices: tuple[Any, ...], now: Rehearsal) -> Pin:
    """Return the pin of the chosen voicing."""
    one = choices[-prompt.choice % len(choices)]
    step = now.steps[int(prompt.subject)]
    left = (None, ()) if one.pattern else (one.left, one.left_fingers)
    return Pin(step.section, step.bar, step.beat, left[0], one.right, left[1], one.right_fingers)
