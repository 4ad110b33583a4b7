"""A stand locked for the stage: what would change something or leave it is asked about first."""

from tui.input.prompts import Prompt
from tui.screens.asking import Asking

ARMED = {
    "song": "another song", "ask('key')": "another key", "ask('tempo')": "another tempo", "ask('find')": "another song",
    "quit": "quit", "lock": "unlock the stand", "show": "leave the stand", "ask('note')": "write a note",
    "ask('other')": "another voicing", "undo": "undo", "redo": "redo", "reload": "take up the changed files",
    "return": "back to the other song",
}  # fmt: skip
"""Deeds that a locked stand asks about first, in words for the question."""


class Locking(Asking):
    """A screen some of whose deeds are asked about first while it is locked."""

    def armed(self, deed: str) -> bool:
        """Ask first when the stand is locked; tell whether it asked."""
        words = ARMED.get(deed) or ARMED.get(deed.partition("(")[0])
        if not self.desk.now.locked or words is None:
            return False
        self.ask(Prompt("confirm", subject=deed, question=f"locked: {words}?"))
        return True
