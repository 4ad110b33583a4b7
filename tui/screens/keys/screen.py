"""The twelve keys compared for hands, singer and horns. The best is marked, never taken unasked."""

from dataclasses import replace
from typing import ClassVar

from engine.planning.twelve_keys import KeyRow, every_key, judged
from engine.song.model import Song
from engine.theory.key import spelled_in_key
from tui.planning.client import NotPlanned
from tui.screens.context import Context
from tui.screens.page import Page
from tui.session import decisions
from tui.widgets.cells import Rows, choice_row, text_row, text_rows
from tui.widgets.lettering import pretty, pretty_words

ROOMY, FIT = 90, 13
"""Columns from which all that is known of a key stands in full, and those of the singer's in a narrower window."""


class KeysScreen(Page):
    """A row a key, the song's own first; what each means for the hands comes as the planner's process finds it."""

    kind: ClassVar[str] = "keys"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        place = self.session.now.here
        self.own = place.song.key if place else "C"
        self._singers = self.context.player().singers
        self._singer = self._singers[0] if self._singers else None
        self.rows = self._unplanned()
        self.planned: set[int] = set()
        """The rows whose hands are known."""
        self.trouble = ""
        self.cursor = 0

    def _unplanned(self) -> tuple[KeyRow, ...]:
        """Return the keys for the present singer, before the hands are known."""
        place = self.session.now.here
        span = (self._singer.lowest, self._singer.highest) if self._singer else None
        return every_key(place.song, span, self.session.now.set_list.horns) if place else ()

    def on_mount(self) -> None:
        self.run_worker(self._fill(), exclusive=True, group="keys")

    async def _fill(self) -> None:
        place = self.session.now.here
        if place is None:
            return
        # Twelve plans without their proofs: the order of the keys does not hang on the last half percent.
        request = replace(self.context.plans.request(place), prove=False)
        # The keys near the song's own first: a singer asks for those.
        for index in sorted(range(len(self.rows)), key=lambda index: (min(index, 12 - index), index)):
            try:
                row = await self.context.plans.planner.ask("key", (self.rows[index], place.song, request))
            except NotPlanned as fault:
                self.trouble = str(fault).splitlines()[0]
                break
            self.planned.add(index)
            # Another singer may have been chosen meanwhile: the answer is about the hands alone.
            row = _with_hands(self.rows[index], row)
            rows = (*self.rows[:index], row, *self.rows[index + 1 :])
            self.rows = judged(rows) if len(self.planned) == len(rows) else rows
            self.show_now()
        self.show_now()

    def heading(self) -> tuple[str, str]:
        place = self.session.now.here
        return f"KEYS  {place.song.title if place else ''}", f"now {pretty(self.own)}"

    def body(self, width: int, height: int) -> Rows:
        if not self.rows:
            return [text_row("  no song is open", width, "dim")]
        rows: Rows = [text_row(self._names(width), width, "dim")]
        # Where not all find room, the chosen key stays in sight.
        room = max(1, height - 1)
        first = max(0, min(self.cursor - room // 2, len(self.rows) - room))
        for index, row in list(enumerate(self.rows))[first : first + room]:
            rows.append(choice_row(self._line(index, row, width), width, index == self.cursor))
        rows.append(text_row("", width, "text"))
        chosen = self.rows[self.cursor]
        rows += text_rows(f"{pretty(chosen.key)}: {pretty_words(chosen.reason)}", width, "cue", indent=2)
        rows += self._beside(chosen.key, width)
        rows += text_rows(self._verdict(), width, "dim", 2)
        rows += text_rows(words, width, "dim", 2) if (words := self._unsung()) else []
        return rows

    def _unsung(self) -> str:
        """Say what is to be written, and where, before the keys can be compared for a singer."""
        if self._singer is None:
            return "for a singer too: write a range under [[singers]] in player.toml (README)"
        tune = self.rows[0].melody
        return "" if tune else f"for {self._singer.name}'s range too: write [melody] into the song's file"

    def _verdict(self) -> str:
        if self.trouble:
            return self.trouble
        if len(self.planned) < len(self.rows):
            return f"hands: {len(self.planned)} of {len(self.rows)} keys planned ..."
        sung = self._singer is not None and self.rows[0].melody is not None
        return f"★ {'fits the singer best, then ' if sung else ''}asks least of the hands; the choice is yours"

    def _beside(self, key: str, width: int) -> Rows:
        """Return the song's first chords in its own key and, below each, in the chosen one."""
        place = self.session.now.here
        if place is None or key == self.own:
            return []
        from engine.song.transposing import transpose

        old, new = _chords(place.song), _chords(transpose(place.song, key))
        lines = [f"  {pretty(self.own):<4}", f"  {pretty(key):<4}"]
        for before, after in zip(old, new, strict=True):
            column = max(len(before), len(after)) + 2
            if len(lines[0]) + column > width:
                break
            lines = [lines[0] + f"{before:<{column}}", lines[1] + f"{after:<{column}}"]
        return [text_row(lines[0], width, "text"), text_row(lines[1], width, "cue")]

    def _names(self, width: int) -> str:
        sung = self._singer is not None and self.rows[0].melody is not None
        singer = self._singer.name[: FIT - 1] if self._singer and sung else ""
        horns = [pretty(horn) for horn, _ in self.rows[0].written]
        if width >= ROOMY:
            written = "".join(f"{horn + ' horn':<9}" for horn in horns)
            return f"    {'key':<6}{'steps':>5}{'effort':>9}{'widest':>9}{'low':>5}{'signs':>7}   {written}{singer}"
        written = "".join(f"{horn:<5}" for horn in horns)
        fit = f"{singer:<{FIT}}" if sung else ""
        return f"    {'key':<5}{'steps':>5}{'effort':>7}{'widest':>7}{'low':>4}{'signs':>6} {fit}{written}".rstrip()

    def _line(self, index: int, row: KeyRow, width: int) -> str:
        """Return a key's row; in a narrow window the singer stands before the horns, whose keys have less room."""
        mark, keys = "★" if row.best else " ", [pretty(key) for _, key in row.written]
        fit, signs = self._fit(row), sign_words(row.signature)
        if width >= ROOMY:
            written = "".join(f"{key:<9}" for key in keys)
            hands = self._hands(index, row, (9, 6, 5))
            return f" {mark} {pretty(row.key):<6}{row.semitones:>+5}{hands}{signs:>7}   {written}{fit}"
        written, hands = "".join(f"{key:<5}" for key in keys), self._hands(index, row, (7, 4, 4))
        singer = f"{fit:<{FIT}}" if fit else ""
        return f" {mark} {pretty(row.key):<5}{row.semitones:>+5}{hands}{signs:>6} {singer}{written}".rstrip()

    def _hands(self, index: int, row: KeyRow, wide: tuple[int, int, int]) -> str:
        if index not in self.planned:
            return " " * (sum(wide) + 3)
        effort = "-" if row.effort is None else f"{row.effort:.0f}"
        return f"{effort:>{wide[0]}}{row.widest:>{wide[1]}.0f} mm{row.muddy:>{wide[2]}}"

    def _fit(self, row: KeyRow) -> str:
        """Say how many half steps of the tune lie outside the singer's range, or in it but hard; "" where that is not
        known."""
        singer, melody = self._singer, row.melody
        if singer is None or melody is None:
            return ""
        if row.outside:
            return f"{row.outside} out"
        low, high = singer.low_ease or singer.lowest, singer.high_ease or singer.highest
        hard = max(0, low - melody[0]) + max(0, melody[1] - high)
        return f"fits, {hard} hard" if hard else "fits"

    def action_move(self, direction: int) -> None:
        if self.rows:
            self.cursor = (self.cursor + direction) % len(self.rows)
            self.show_now()

    def action_singer(self) -> None:
        """Compare the keys for the next singer."""
        if self._singer is None or not self.rows:
            self.session.say(self._unsung() or "no song is open", alarm=True)
            return
        place = self._singers.index(self._singer)
        self._singer = self._singers[(place + 1) % len(self._singers)]
        rows = tuple(_with_hands(new, old) for new, old in zip(self._unplanned(), self.rows, strict=True))
        self.rows = judged(rows) if len(self.planned) == len(rows) else rows
        ends, signs = (self._singer.lowest, self._singer.highest), self.rows[0].signature
        low, high = (pretty(spelled_in_key(note, signs)) for note in ends)
        self.session.say(f"for {self._singer.name}, {low} to {high}")

    def action_keep(self) -> None:
        """Put the song into the chosen key for good."""
        now = self.session.now
        if self.rows and now.here is not None:
            key = self.rows[self.cursor].key
            self.action_close()
            self.session.tasks.start(self.keep_for_good(now.song, key))

    def action_take(self) -> None:
        if not self.rows:
            return
        key = self.rows[self.cursor].key
        now, unfold = self.session.now, self.session.unfold
        if key == self.own or self.session.attempt(lambda: decisions.transposed(now, now.song, key, unfold)):
            self.action_close()


def _with_hands(row: KeyRow, planned: KeyRow) -> KeyRow:
    """Return a key with what another row of the same key knows of the hands."""
    return replace(row, effort=planned.effort, widest=planned.widest, muddy=planned.muddy)


def _chords(song: Song) -> list[str]:
    return [pretty(event.symbol) for part in song.sections for bar in part.bars for event in bar.events]


def sign_words(signs: int) -> str:
    """Return a key signature in a few signs: 2♯, 3♭, none."""
    return "none" if signs == 0 else f"{abs(signs)}{'♯' if signs > 0 else '♭'}"
