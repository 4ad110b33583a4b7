"""Tonight's plan on the shed's page: spots taken in turns, so many minutes of them."""

from collections.abc import Callable
from datetime import datetime
from time import monotonic

from engine.practice.practice_plan import tonight
from tui.screens.context import Context
from tui.screens.practice.narrower import Narrowing
from tui.screens.practice.turns import Turns
from tui.widgets.lettering import written


class Evening(Narrowing):
    """A page that goes through the turns of an evening; `turns` is None while there is no plan for it."""

    def __init__(self, context: Context, now: Callable[[], datetime] | None = None) -> None:
        super().__init__(context, now)
        self.minutes = 30
        self.turns: Turns | None = None

    def action_minutes(self, key: str) -> None:
        self.minutes = int(key) * 10 if key.isdigit() else self.minutes
        self._begin()

    def action_tonight(self) -> None:
        """Begin tonight's plan; a second time leaves it."""
        if self.turns and self.turns.now:
            self.turns = None
            self.session.say("tonight's plan is left; all tries are kept")
        else:
            self._begin()

    def _begin(self) -> None:
        lengths = tuple(len(place.steps) for place in self.session.now.songs)
        evening = tonight(self.ranking, self.keeping.memories, float(self.minutes), self.now(), lengths)
        if not evening.turns:
            self.turns = None
            self.session.say("nothing to practise yet: no shift is ranked", alarm=True)
            return
        self._go_to(Turns(evening, began=monotonic()))

    def action_next(self) -> None:
        """Go to the next turn of tonight's plan."""
        if self.turns is None:
            self.session.say("t = tonight's plan first")
        else:
            self._go_to(self.turns.next(monotonic()))

    def _go_to(self, turns: Turns) -> None:
        self.round.stop()
        self.turns, self.narrow, self.moved = turns, None, True
        here = turns.now.spot if turns.now else None
        if here is not None:
            self.choose(here.hard.shift.sign)
            names = " › ".join(written(symbol) for symbol in here.hard.tightest.symbols)
            self.session.say(f"{names} at {self.tempo(here.hard):g}" + (", again after a night" if here.again else ""))
        elif turns.now:
            self.session.say("pause: let the hands rest; n goes on")
        self.show_now()
