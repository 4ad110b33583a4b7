"""The twelve keys compared for hands, singer and horns. The best is marked, never taken unasked."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from engine.errors import EngineError
from engine.plan.model import Plan
from engine.theory.pitch import note_name
from tui.desk import unfolded
from tui.keymap import bindings
from tui.screens.page import Page
from tui.screens.stand_picture import pretty_key
from tui.tonight import distance_words, is_minor, pitch_class, usual_name
from tui.widgets.cells import Rows, text_row

if TYPE_CHECKING:
    from tui.app import StandApp
    from tui.player import Singer


@dataclass(frozen=True, slots=True)
class KeyRow:
    """One key: `effort` of the whole song, `widest` hand in semitones, `signs` sharps above 0, flats below."""

    key: str
    effort: float | None = None
    widest: int = 0
    signs: int = 0
    singer: str = ""
    trouble: str = ""


class KeysScreen(Page):
    """A row a key, the song's own first; rows fill as the planner answers."""

    kind: ClassVar[str] = "keys"
    forward: ClassVar[str] = "keys.take"
    BINDINGS = bindings("keys")

    def __init__(self, app: "StandApp") -> None:
        super().__init__(app)
        place = self.desk.now.here
        own = place.song.key if place else "C"
        self.own = own
        self._player = app.player
        order = [own, *(usual_name(pitch_class(own) + up, is_minor(own)) for up in range(1, 12))]
        self.rows = [KeyRow(key, signs=signs_of(key), singer=self._singer(key)) for key in order]
        self.cursor = 0

    def on_mount(self) -> None:
        self.run_worker(self._fill(), exclusive=True, group="keys")

    async def _fill(self) -> None:
        place = self.desk.now.here
        if place is None:
            return
        from engine.song.transposing import transpose

        for index, row in enumerate(self.rows):
            try:
                song = place.song if row.key == self.own else transpose(place.song, row.key)
                steps = place.steps if row.key == self.own else unfolded(song)
                plan = await self.desk.planner.plan(steps, self.desk.request(replace(place, song=song)))
                self.rows[index] = replace(row, effort=plan.effort, widest=widest(plan))
            except EngineError as fault:
                self.rows[index] = replace(row, trouble=str(fault).splitlines()[0])
            self.show_now()

    def _singer(self, key: str) -> str:
        """Say whether the tune lies in the singer's range in a key, "" without melody or singer."""
        place, player = self.desk.now.here, self._player
        if place is None or place.song.melody is None or player is None or not player.singers:
            return ""
        singer = player.singers[0]
        up = (pitch_class(key) - pitch_class(self.own)) % 12
        fits = [self._fit(place.song.melody, shift, singer) for shift in (up, up - 12)]
        return f"{singer.name}: {max(fits)[1]}"

    @staticmethod
    def _fit(melody: tuple[int, int], shift: int, singer: "Singer") -> tuple[int, str]:
        low, high = melody[0] + shift, melody[1] + shift
        over = max(0, singer.lowest - low) + max(0, high - singer.highest)
        return -over, "fits" if over == 0 else f"{over} half steps out"

    def heading(self) -> tuple[str, str]:
        place = self.desk.now.here
        return f"KEYS  {place.song.title if place else ''}", f"now {pretty_key(self.own)}"

    def body(self, width: int, height: int) -> Rows:
        horns = self.desk.now.set_list.horns
        head = f"    {'key':<5}{'':<22}{'effort':>8}  {'widest':<14}{'signs':<8}" + "".join(
            f"{h + ' horn':<9}" for h in horns
        )
        rows: Rows = [text_row(head, width, "dim")]
        known = [row.effort for row in self.rows if row.effort is not None]
        best = min(known) if len(known) == len(self.rows) else None
        for index, row in enumerate(self.rows):
            rows.append(text_row(self._line(row, best, horns), width, "here" if index == self.cursor else "text"))
        rows.append(text_row("", width, "text"))
        rows.append(text_row(" ★ least effort for the hands; the choice is yours", width, "dim"))
        return rows

    def _line(self, row: KeyRow, best: float | None, horns: tuple[str, ...]) -> str:
        mark = "★" if best is not None and row.effort == best else " "
        effort = row.trouble or ("..." if row.effort is None else f"{row.effort:.1f}")
        stretch = f"{row.widest} half steps" if row.widest else ""
        written = "".join(f"{pretty_key(horn_key(horn, row.key)):<9}" for horn in horns)
        return (
            f"  {mark} {pretty_key(row.key):<5}{distance_words(self.own, row.key):<22}{effort:>8}  "
            f"{stretch:<14}{sign_words(row.signs):<8}{written}{row.singer}"
        )

    def action_move(self, direction: int) -> None:
        self.cursor = (self.cursor + direction) % len(self.rows)
        self.show_now()

    def action_take(self) -> None:
        key = self.rows[self.cursor].key
        taken = key == self.own or self.desk.try_to(lambda: self.desk.transposed(self.desk.now.song, key))
        if taken:
            self.action_close()


def widest(plan: Plan) -> int:
    """Return the widest span of one hand in the song, in semitones."""
    spans = [
        max(note.key for note in hand) - min(note.key for note in hand)
        for step in plan.steps
        for hand in (step.left, step.right)
        if hand
    ]
    return max(spans, default=0)


def signs_of(key: str) -> int:
    """Return the sharps of a key signature, flats below 0."""
    return note_name(key.removesuffix("m")).fifths - (3 if is_minor(key) else 0)


def sign_words(signs: int) -> str:
    return "none" if signs == 0 else f"{abs(signs)} {'♯' if signs > 0 else '♭'}"


def horn_key(horn: str, key: str) -> str:
    """Return the key a horn reads in."""
    up = {"Bb": 2, "Eb": 9, "F": 7}.get(horn, 0)
    return usual_name(pitch_class(key) + up, is_minor(key))
