"""The stand: what the player looks at while playing. One picture, no focus, no dialog; the top bar asks."""

from collections.abc import Callable
from dataclasses import replace
from time import monotonic
from typing import ClassVar

from rich.cells import cell_len
from textual import events
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical

from engine.errors import EngineError
from tui.input.commands import Command
from tui.input.prompts import Prompt
from tui.input.typed_notes import note_place, note_text
from tui.input.typed_values import wanted_key, wanted_tempo
from tui.screens.context import Context
from tui.screens.stand.heights import SPLIT, WIDE, is_split
from tui.screens.stand.picture import stand_parts
from tui.screens.stand.taking_up import TakingUp
from tui.screens.stand.tour import tour_line
from tui.screens.stand.view import View
from tui.screens.stand.words import horn_chords
from tui.screens.voicings import ChoosingVoicings
from tui.session import decisions, navigation
from tui.session import rehearsal as stand
from tui.session.rehearsal import LAYOUTS, Rehearsal
from tui.session.session import in_a_line
from tui.session.song_numbers import passed_over
from tui.widgets.cells import Rows
from tui.widgets.drawn import Drawn
from tui.widgets.roadmap import section_at

LEFT = ("chords", "moves", "keyboard", "roadmap", "ahead", "place")
"""The parts of the stand between the top bar and the line of keys, from top to bottom."""

COPY = "~/set-copy.toml"
"""Where a set that cannot be saved is offered a place."""

PEDALS = frozenset({"pagedown", "pageup"})
"""Keys that foot switches send; held down they repeat, and a repeat is no second step."""

REPEAT = (0.015, 0.12)
"""Seconds between two of the same pedal key that are a repeat: a foot is slower, a program's burst faster."""


class StandScreen(TakingUp, ChoosingVoicings):
    """Shows the session's rehearsal and takes the stage keys."""

    kind: ClassVar[str] = "stand"
    CSS_PATH = "stand.tcss"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self._pressed: tuple[str, float] = ("", 0.0)
        self._words_at: tuple[int, int] | None = None
        """(song, step) whose words are all shown; a step hides them again."""
        self._warming = False
        self._parts = {name: Drawn(_nothing, id=name) for name in (*LEFT, "bar", "bars", "keys")}

    def compose(self) -> ComposeResult:
        yield self._parts["bar"]
        with Horizontal(id="middle"):
            with Vertical(id="left"):
                yield from (self._parts[name] for name in LEFT)
            yield self._parts["bars"]
        yield self._parts["keys"]

    # The picture

    def on_mount(self) -> None:
        self.show_now()

    def on_resize(self) -> None:
        self.show_now()

    def show_now(self) -> None:
        """Show what has changed, then make ready what forward would bring."""
        parts = stand_parts(self.view(), *self.app.size)
        for name, widget in self._parts.items():
            part = parts.get(name)
            widget.display = part is not None
            if part is not None:
                widget.show(part.draw, part.state, self.context.display.look)
                widget.styles.height = part.height
                widget.styles.width = part.width
        if not self._warming:
            self._warming = self.call_after_refresh(self._warm)

    def _warm(self) -> None:
        self._warming = False
        following = stand.forward(self.session.now)
        if following is not self.session.now and following.song == self.session.now.song:
            view = replace(self.view(), now=following, asked=None, message="")
            for name, part in stand_parts(view, *self.app.size).items():
                self._parts[name].warm(part.draw, part.state)

    def view(self) -> View:
        session, plans = self.session, self.context.plans
        return View(
            session.now,
            plans.current,
            asked=self.asked,
            message=session.message,
            alarm=session.alarm,
            # The tour needs the room: it is read once.
            status="" if tour_line(session.toured) else self.context.status(),
            trouble=self.context.told()[0],
            keys=self._keys(),
            lamp=self.context.transport.lamp,
            style=self.context.display.style,
            ascii_only=self.context.display.ascii_only,
            coarse=self.context.display.coarse,
            held=self.context.held(),
            planning=plans.pending,
            numbers=self.context.display.numbers,
            looks_ahead=self.context.display.looks_ahead,
            time=self.context.time(),
            tried=self.tried,
            all_words=self._all_words(),
            words_key=self.context.keymap().sign("stand.words"),
            rhythms=self.context.sound.rhythms() if session.now.now and session.now.now.comp else (),
            horns=horn_chords(session.now),
        )

    def _all_words(self) -> bool:
        """Tell whether all words of the place are shown; they are not any more once we have gone elsewhere."""
        if self._words_at != (self.session.now.song, self.session.now.step):
            self._words_at = None
        return self._words_at is not None

    def _keys(self) -> str:
        """Return the line of keys, the tour before it, or beside a complaint what there is room for."""
        trouble = self.context.told()[0]
        if trouble:
            return self.context.keymap().line("stand", self.size.width - cell_len(trouble) - 6)
        time = len(self.context.time()) + 2 if self.size.width >= WIDE else 0
        room = self.size.width - 3 - max(12, len(self.context.status()) + time)
        return tour_line(self.session.toured) or self.context.key_line("stand", room)

    # Keys

    def takes(self, event: events.Key) -> bool:
        return self._repeated(event.key) or super().takes(event)

    def _repeated(self, key: str) -> bool:
        now = monotonic()
        before, self._pressed = self._pressed, (key, now)
        return key in PEDALS and key == before[0] and REPEAT[0] < now - before[1] < REPEAT[1]

    def at_once(self, prompt: Prompt, key: str, char: str | None) -> bool:
        """Go where a key of the jump question says."""
        if prompt.kind != "jump":
            return False
        deeds = {"home": navigation.top, "end": navigation.last_ending}
        if key not in deeds:
            return False
        self.session.attempt(lambda: deeds[key](self.session.now))
        return True

    def changed(self, prompt: Prompt) -> Prompt:
        """Go to a section at the first letter of its name; the letters after it are the name's, no commands."""
        if prompt.kind != "jump":
            return super().changed(prompt)
        from tui.input.jumps import went

        prompt, there = went(prompt, self.session.now)
        if there is not self.session.now:
            self.session.become(there)
        return prompt

    def accept(self, prompt: Prompt) -> None:
        if prompt.kind == "confirm":
            self.confirmed(prompt)
            return
        if prompt.kind == "whose":
            self.answer_whose(prompt)
            return
        if prompt.kind == "copy":
            self._save_copy(prompt)
            return
        from tui.input.jumps import landed
        from tui.input.song_search import found_opened

        now = self.session.now
        accepted: dict[str, Callable[[], Rehearsal]] = {
            "jump": lambda: landed(prompt, now),
            "find": lambda: found_opened(prompt, now),
            "key": lambda: self._new_key(prompt),
            "tempo": lambda: decisions.retimed(now, prompt.song, wanted_tempo(prompt, now)),
            "note": lambda: self._new_note(prompt),
            "other": lambda: self.pinned(prompt),
        }
        self.session.attempt(accepted[prompt.kind])

    def _new_key(self, prompt: Prompt) -> Rehearsal:
        key = wanted_key(prompt, self.session.now)
        self.chosen_since = (prompt.song, key)
        return decisions.transposed(self.session.now, prompt.song, key, self.session.unfold)

    def _new_note(self, prompt: Prompt) -> Rehearsal:
        where = note_place(prompt, self.session.now)
        return decisions.noted(self.session.now, "" if where == "the song" else where, prompt.typed)

    # Commands

    def doubt(self, command: Command) -> str:
        """Ask before what changes or leaves a locked stand."""
        now = self.session.now
        at_top = now.step == 0 and now.song > 0
        leaves = now.left is not None and now.left.name != stand.name_here(now)
        harmless = {"stand.song_back": not at_top, "stand.return": not leaves}
        if command.id == "stand.quit" and not now.locked and self.context.sound.playing is not None:
            return "quit while it plays?"
        if not now.locked or not command.confirm or harmless.get(command.id):
            return ""
        return f"locked: {command.confirm}?"

    def clicked(self, part: Drawn, x: int, y: int) -> None:
        """Go to the section of the roadmap that was clicked."""
        now = self.session.now
        if part.id == "roadmap" and y == 0 and now.steps:
            step = section_at(now.steps, now.step, part.size.width, x)
            if step is not None:
                self.session.become(navigation.to_step(now, step))

    def action_forward(self) -> None:
        self._neighbour(stand.forward)

    def action_back(self) -> None:
        self.session.become(stand.back(self.session.now))

    def action_section(self, direction: int) -> None:
        self.session.attempt(lambda: navigation.neighbour_section(self.session.now, direction))

    def action_top(self) -> None:
        self.session.become(navigation.top(self.session.now))

    def action_ending(self) -> None:
        self.session.become(navigation.last_ending(self.session.now))

    def action_return(self) -> None:
        self.session.attempt(lambda: stand.returned(self.session.now))

    def action_bars(self, key: str) -> None:
        self.ask(Prompt("jump", self.session.now.song, typed=f"-{key}"))

    def action_cue(self) -> None:
        if self.context.transport.on and self.session.now.cued:
            # The clock leaves the vamp at its end; it cannot be told to stay after all.
            self.session.say("the cue is given: out at the end")
            return
        if self.session.attempt(lambda: stand.cue(self.session.now)):
            self.context.sound.cue()

    def action_ask(self, kind: str) -> None:
        if not self.session.now.songs:
            self.session.say("no songs in this set", alarm=True)
        elif kind == "other":
            self.look_for_voicings()
        else:
            self.ask(
                Prompt(
                    kind,
                    self.session.now.song,
                    typed=note_text(Prompt(kind), self.session.now) if kind == "note" else "",
                )
            )

    def action_song(self, direction: int) -> None:
        step = stand.next_song if direction > 0 else stand.previous_song
        self._neighbour(step)

    def _neighbour(self, step: Callable[[Rehearsal], Rehearsal]) -> None:
        """Take a step that may lead into the next song or the one before; songs it passes over are said."""
        before = self.session.now
        if self.session.attempt(lambda: step(before)) and self.session.now.song != before.song:
            words = passed_over(before.set_list, before.song, self.session.now.song)
            if words:
                self.session.say(words, alarm=True)

    def action_layout(self) -> None:
        place = LAYOUTS.index(self.session.now.layout)
        layout = LAYOUTS[(place + 1) % len(LAYOUTS)]
        self.session.become(replace(self.session.now, layout=layout))
        small = layout == "split" and not is_split(layout, self.size.width, self.size.height)
        more = f": in a window of {SPLIT[0]}x{SPLIT[1]} or more" if small else ""
        self.session.say(f"layout: {layout}{more}")

    def action_numbers(self) -> None:
        self.context.display.numbers = not self.context.display.numbers
        self.session.say("chords as numbers of the key" if self.context.display.numbers else "chords by name")
        self.show_now()

    def action_theme(self) -> None:
        theme = self.context.display.next_theme()
        self.context.keep(theme=theme)
        self.session.say(f"theme: {theme}")
        self.context.show_top()

    def action_ahead(self) -> None:
        display = self.context.display
        display.looks_ahead = not display.looks_ahead
        self.session.say("the coming bars in place of the roadmap" if display.looks_ahead else "the roadmap")

    def action_words(self) -> None:
        now = self.session.now
        shown = self._words_at == (now.song, now.step)
        self._words_at = None if shown else (now.song, now.step)
        self.session.say("short again" if shown else "all words of this place, until the next step")

    def action_lock(self) -> None:
        locked = not self.session.now.locked
        self.session.become(replace(self.session.now, locked=locked))
        self.session.say("locked: changes ask first, l unlocks" if locked else "unlocked")

    def action_count(self) -> None:
        self.context.transport.count_in()

    def action_along(self) -> None:
        self.context.transport.toggle()

    def action_climb(self) -> None:
        self.context.transport.climb()

    def action_hear(self) -> None:
        self.context.step_sound.toggle()

    def action_record(self) -> None:
        self.context.record()

    def action_volume(self, levels: int) -> None:
        self.session.say(self.context.sound.turn_volume(levels))
        self.context.keep(volume=self.context.sound.volume)

    def action_silence(self) -> None:
        self.context.sound.silence()
        self.session.say("silence")

    def action_reload(self) -> None:
        self.take_up()

    def action_quit(self) -> None:
        if "saving" in self.session.notices:
            self.ask(Prompt("copy", self.session.now.song, typed=COPY))
        else:
            self.context.leave()

    def other_answer(self, prompt: Prompt) -> None:
        if prompt.kind == "copy":
            self.context.leave()
        else:
            super().other_answer(prompt)

    def _save_copy(self, prompt: Prompt) -> None:
        """Keep the set somewhere else and quit; the question stays where that cannot be written either."""
        try:
            self.context.files().save_copy(prompt.typed)
        except EngineError as fault:
            self.ask(replace(prompt, question=in_a_line(fault)))
        else:
            self.context.leave()

    # Other voicings

    def chord_in_question(self) -> int | None:
        return self.session.now.coming


def _nothing(_state: object, _width: int, _height: int) -> Rows:
    return []
