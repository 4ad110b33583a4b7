"""A screen that can ask in its top bar: the question stays until it is answered, left, or forgotten."""

from dataclasses import replace
from time import monotonic
from typing import TYPE_CHECKING

from textual import events
from textual.timer import Timer

from engine.errors import EngineError
from tui.input import prompts
from tui.input.commands import COMMANDS, FOOT_SWITCHES, Command
from tui.input.prompts import Prompt
from tui.input.typed_notes import note_turned
from tui.input.typed_values import wanted_key
from tui.screens.context import Context
from tui.screens.keyed import Keyed
from tui.session import decisions
from tui.session.session import in_a_line
from tui.widgets.cells import arrows_in_words
from tui.widgets.drawn import Drawn
from tui.widgets.lettering import pretty
from tui.widgets.lines import choices_rows

if TYPE_CHECKING:
    from tui.widgets.line_input import LineInput


class Asking(Keyed):
    """Holds at most one open question; `accept` is called when the player says yes."""

    DEFAULT_CSS = """
    Asking { layers: base over; }
    Asking #choices { layer: over; position: absolute; offset: 0 2; width: 100%; }
    """

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.prompt: Prompt | None = None
        self.chosen_since: tuple[int, str] | None = None
        """The song, and its key for tonight that was chosen while another one is being kept for good."""
        self._patience: Timer | None = None
        self._draft: Prompt | None = None
        self._input: LineInput | None = None
        self._choices: Drawn | None = None

    @property
    def asked(self) -> tuple[str, str] | None:
        """What the top bar asks, and with which keys it is answered."""
        if self.prompt is None:
            return None
        from tui.input.prompt_words import fitted, words  # not needed before the first question

        question, keys = words(self.prompt, self.session.now)
        if self.context.display.ascii_only:
            question, keys = arrows_in_words(question), arrows_in_words(keys)
        # The reading of a bar and both sides of a clash are what counts: Enter is known.
        whole = self.prompt.kind == "whose" and len(question) < self.size.width - 1
        if whole or self.prompt.kind in ("bar", "bars", "form"):
            return question, keys
        return fitted(question, keys, self.size.width, self.prompt.kind)

    def ask(self, prompt: Prompt) -> None:
        """Open a question in the top bar."""
        self.session.message = ""
        draft, self._draft = self._draft, None
        if draft is not None and (draft.kind, draft.song) == (prompt.kind, prompt.song):
            prompt = draft
        self._hold(prompt)

    def accept(self, prompt: Prompt) -> None:
        """Do what was asked."""
        raise NotImplementedError

    def perform(self, command: Command, key: str = "") -> None:
        """Do what a command says, or ask first."""
        question = self.doubt(command)
        if question:
            self.ask(Prompt("confirm", subject=command.id, question=question))
        else:
            super().perform(command, key)

    def doubt(self, command: Command) -> str:
        """Return what is to be asked before a command is done, "" for nothing."""
        return ""

    def confirmed(self, prompt: Prompt) -> None:
        """Do the command that was asked about."""
        COMMANDS[prompt.subject].run(self, "")

    def at_once(self, prompt: Prompt, key: str, char: str | None) -> bool:
        """Take a key that answers without waiting for forward; tell whether it did."""
        return False

    def changed(self, prompt: Prompt) -> Prompt:
        """Return the question with what belongs to it after a key."""
        return prompt

    @property
    def asking(self) -> bool:
        return self.prompt is not None

    def takes(self, event: events.Key) -> bool:
        if self.prompt is None:
            return False
        self._answer(self.prompt, event)
        return True

    def on_paste(self, event: events.Paste) -> None:
        """Take pasted text into an open line; where no text is asked for it is dropped whole."""
        event.stop()
        if self._input is None or self.prompt is None:
            self.session.say("text was pasted where none is asked for: it is dropped", alarm=True)
            return
        if len(self._input.value) + len(event.text) > prompts.LONGEST:
            self.session.say(f"a line takes {prompts.LONGEST} characters: the pasted text is longer", alarm=True)
        self._input.take_text(event.text[: prompts.LONGEST - len(self._input.value)])
        self._typed(self.prompt)

    def _typed(self, prompt: Prompt) -> None:
        """Take up what stands in the line now."""
        assert self._input is not None
        if self._input.value != prompt.typed:
            prompt = replace(
                prompt, typed=self._input.value, choice=prompt.choice if prompt.kind in ("note", "bars") else 0
            )
        self._hold(self.changed(prompt))

    def _write_in_line(self, prompt: Prompt | None) -> None:
        """Show the line that a question is answered in, or take it away."""
        if prompt is None or prompt.kind not in prompts.TEXT:
            if self._input is not None:
                self._input.remove()
                self._input = None
            self._list(())
            return
        if self._input is None:
            from tui.widgets.line_input import LineInput

            self._input = LineInput(prompt.typed)
            self.mount(self._input)
            self.set_focus(self._input, scroll_visible=False)
            if prompt.kind == "form" and prompt.subject.split(" ")[0] in prompts.REPLACED:
                self._input.choose_all()
        elif self._input.value != prompt.typed:
            self._input.value = prompt.typed
            self._input.cursor_position = len(prompt.typed)
        from tui.input.prompt_words import choices

        self._list(choices(prompt, self.session.now))

    def _list(self, lines: tuple[str, ...]) -> None:
        """Show what can be chosen below the line that is typed; the first is the one that Enter takes."""
        if lines and self._choices is None:
            self._choices = Drawn(choices_rows, lines, self.context.display.look, id="choices")
            self.mount(self._choices)
        if self._choices is not None:
            self._choices.show(choices_rows, lines, self.context.display.look)
            self._choices.display = bool(lines)
            self._choices.styles.height = len(lines)

    def _hold(self, prompt: Prompt | None) -> None:
        self.prompt = prompt
        self._write_in_line(prompt)
        if self._patience is not None:
            self._patience.stop()
            self._patience = None
        if prompt is not None:
            waits = "jumped" if prompt.kind == "jump" and prompt.subject else prompt.kind
            self._patience = self.set_timer(prompts.PATIENCE[waits], self._forget)
        self.context.show_top()

    def _forget(self) -> None:
        """Close a question nobody answered; what was typed of a note or a file's name waits for the next time."""
        if self.prompt is not None and self.prompt.kind in ("note", "add") and self.prompt.typed:
            self._draft = self.prompt
        self._drop()

    def _drop(self) -> None:
        self._hold(None)

    def other_answer(self, prompt: Prompt) -> None:
        """Do what Tab stands for: put the song into the key for good, not for tonight alone."""
        try:
            key = wanted_key(prompt, self.session.now)
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
            return
        self.chosen_since = None
        self.session.tasks.start(self.keep_for_good(prompt.song, key))

    async def keep_for_good(self, index: int, key: str) -> None:
        """Put a song's own file into a key, and say what came of it."""
        try:
            title = await self.context.files().songs.keep_key(index, key)
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
            return
        now, chosen = self.session.now, self.chosen_since
        if chosen is not None and chosen[0] == index and now.songs[index].song.title == title:
            self.session.attempt(lambda: decisions.transposed(now, index, chosen[1], self.session.unfold))
        self.session.say(f"{title} is in {pretty(key)} for good")

    def tread(self, switch: str) -> None:
        """Do what a foot switch asks for: it never answers a question, it closes it and steps."""
        id = FOOT_SWITCHES.get(self.kind, {}).get(switch)
        if id is not None:
            if self.prompt is not None:
                self._forget()
            self.perform(COMMANDS[id])

    def _step(self, prompt: Prompt, key: str) -> Command | None:
        """Return the step that a key takes although a question is open; keys that write or move in a line take none."""
        editing = ("space", "left", "right", "backspace") if prompt.kind in prompts.TEXT else ("backspace",)
        command = self.context.keymap().command(self.kind, key)
        steps = [id for switch, id in FOOT_SWITCHES.get(self.kind, {}).items() if switch in ("next", "back")]
        stepping = command is not None and command.id in steps and key not in editing and len(key) > 1
        return command if stepping else None

    def _turn(self, prompt: Prompt, direction: int) -> None:
        """Choose with up or down."""
        turned = prompts.turned(prompt, direction)
        self._hold(self.changed(note_turned(prompt, turned, self.session.now) if prompt.kind == "note" else turned))

    def _answer(self, prompt: Prompt, event: events.Key) -> None:
        key, char = event.key, event.character
        if key == "escape" or (key == "backspace" and not (self._input or prompt.typed or prompt.choice)):
            self._drop()
        elif key in ("enter", "ctrl+j") or (key == "y" and prompt.kind == "confirm"):
            self._hold(None)
            self.accept(prompt)
        elif (command := self._step(prompt, key)) is not None:
            self._forget()
            self.perform(command, key)
        elif key == "tab" and prompt.kind in prompts.SYMBOLS:
            from tui.input.offers import completed

            word = completed(prompt.typed)
            self._hold(self.changed(replace(prompt, typed=word)) if word else prompt)
        elif key == "tab" and (prompt.kind in ("key", "copy") or (prompt.kind == "form" and prompt.taken)):
            self._hold(None)
            self.other_answer(prompt)
        elif prompt.kind == "confirm":
            self._drop()
        elif key in ("up", "down"):
            self._turn(prompt, 1 if key == "up" else -1)
        elif self._input is not None:
            if len(self._input.value) < prompts.LONGEST or len(key) > 1:
                self._input.take(event)
            self._typed(prompt)
        elif key == "backspace":
            self._hold(self.changed(prompts.rubbed(prompt)))
        elif prompt.kind == "tempo" and key in self.context.keymap().keys("stand.tempo"):
            self._hold(prompts.tapped(prompt, monotonic()))
        elif self.at_once(prompt, key, char):
            self._drop()
        elif char:
            self._hold(self.changed(prompts.typed(prompt, char)))
