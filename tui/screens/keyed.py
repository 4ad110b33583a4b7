"""What all screens share: a keystroke runs its command at once, in the order the keys were pressed.

Textual runs bindings one message later, when the next key may already have passed: `k` and `+2` typed quickly would
miss the question that `k` opens. So a screen looks its keystrokes up itself.
"""

from typing import ClassVar

from textual import events
from textual.screen import Screen

from tui.input.commands import Command
from tui.screens.context import Context
from tui.widgets.drawn import Drawn
from tui.widgets.lettering import pretty_words


class Keyed(Screen[None]):
    """A screen whose keys stand in the command table under `kind`."""

    AUTO_FOCUS = None
    kind: ClassVar[str] = ""

    def __init__(self, context: Context) -> None:
        super().__init__(name=self.kind)
        self.context = context
        self.session = context.session

    async def on_key(self, event: events.Key) -> None:
        event.stop()
        event.prevent_default()
        if not self.is_attached:
            return  # it is being closed: what was typed after that is for nobody
        if self.app.screen is not self:
            # Another screen was opened by the key before this one.
            self.app.screen.post_message(events.Key(event.key, event.character))
            return
        if self.takes(event):
            return
        if self.session.message:
            self.session.message = ""
            self.show_now()
        command = self.context.keymap().command(self.kind, event.key)
        if command is not None:
            self.perform(command, event.key)
        elif event.key == "ctrl+c":
            self.session.say("q = quit" if self.kind == "stand" else "Esc = back to the stand")

    def perform(self, command: Command, key: str = "") -> None:
        """Do what a command says; `key` is the keystroke it came by."""
        command.run(self, key)

    def on_drawn_clicked(self, message: Drawn.Clicked) -> None:
        """Do what a click asks for: an entry of the line of keys is its command, the rest is the screen's own."""
        message.stop()
        if self.app.screen is not self or self.asking:
            return
        if message.part.id == "keys":
            command = self.context.keymap().clicked(self.kind, message.part.text(message.y), message.x)
            if command is not None:
                self.perform(command)
        else:
            self.clicked(message.part, message.x, message.y)

    @property
    def asking(self) -> bool:
        """True while a question stands that a click must not answer."""
        return False

    def clicked(self, part: Drawn, x: int, y: int) -> None:
        """Do what a click on a picture asks for."""

    def takes(self, event: events.Key) -> bool:
        """Take a key that is for no command (an open question); tell whether it was."""
        return False

    def show_now(self) -> None:
        """Show what has changed."""
        raise NotImplementedError

    def action_undo(self) -> None:
        """Take back what was decided last, and say what that was."""
        if words := self.session.undo():
            self.session.say(f"undone: {pretty_words(words)}")

    def action_redo(self) -> None:
        """Do again what was undone, and say what that is."""
        if words := self.session.redo():
            self.session.say(f"done again: {pretty_words(words)}")

    def action_show(self, screen: str) -> None:
        self.context.open(screen)
