"""What another program left in the files, taken up: both sides' decisions kept, or the files as they stand. Songs that
the set has lost there are asked about first: the file may be half-written."""

from typing import TYPE_CHECKING

from engine.errors import EngineError
from tui.input.prompts import Prompt
from tui.screens.asking import Asking
from tui.session.session import in_a_line

if TYPE_CHECKING:
    from tui.session.merging import Clash, Value

BOTH, FILES = "both", "only what the files say"
WAIT, WITHOUT = "leave it for now", "take it up without them"


class TakingUp(Asking):
    """A screen that asks whose a value is where this program and another one changed it."""

    whose: "dict[Value, bool]"
    """What the player has said so far: True where ours holds."""
    _clash: "Clash | None" = None

    def take_up(self) -> None:
        """Take up the files; where that would lose something decided here, ask first."""
        self.whose = {}
        self._clash = None
        self.run_worker(self._begin(), exclusive=True, group="files")

    async def _begin(self) -> None:
        try:
            gone = await self.context.files().others.gone()
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
            return
        if gone:
            self.ask(Prompt("whose", self.session.now.song, question=_gone_words(gone), options=(WAIT, WITHOUT)))
        else:
            await self._weigh()

    async def _weigh(self) -> None:
        try:
            stake = await self.context.files().others.at_stake()
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
            return
        if stake:
            self.ask(
                Prompt(
                    "whose",
                    self.session.now.song,
                    question=_at_stake_words(stake),
                    options=(BOTH, FILES),
                )
            )
        else:
            await self._merge()

    def answer_whose(self, prompt: Prompt) -> None:
        """Go on with what was chosen."""
        first = prompt.chosen == prompt.options[0]
        if prompt.options == (WAIT, WITHOUT):
            if not first:
                self.run_worker(self._weigh(), exclusive=True, group="files")
            return
        if self._clash is None and not first:
            self.run_worker(self._reload(), exclusive=True, group="files")
            return
        if self._clash is not None:
            self.whose[self._clash.value] = first
        self.run_worker(self._merge(), exclusive=True, group="files")

    async def _merge(self) -> None:
        try:
            clashes = await self.context.files().others.merge(lambda clash: self.whose.get(clash.value))
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
            return
        if clashes:
            self._clash = clashes[0]
            options = (f"yours: {clashes[0].ours}", f"the file's: {clashes[0].theirs}")
            self.ask(Prompt("whose", self.session.now.song, question=f"{clashes[0].what}:", options=options))
        else:
            self.session.say("the files are taken up, beside what you decided")

    async def _reload(self) -> None:
        try:
            await self.context.files().others.reload()
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
        else:
            self.session.say("the files are taken up as they stand; u goes back")


def _gone_words(gone: tuple[str, ...]) -> str:
    """Say which songs the set's file lacks."""
    return f"the file lacks {gone[0]}{f' and {len(gone) - 1} more' if len(gone) > 1 else ''}:"


def _at_stake_words(stake: "tuple[Clash, ...]") -> str:
    """Name the first value that would be lost, here and in the file, and how many there are besides."""
    first, more = stake[0], len(stake) - 1
    return f"{first.what}: yours {first.ours}, the file's {first.theirs}{f', and {more} more' if more else ''}: keep"
