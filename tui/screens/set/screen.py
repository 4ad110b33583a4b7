"""The set between songs: order, tonight's keys and tempos, lengths, the hardest shift, what was played through."""

from dataclasses import replace
from typing import ClassVar

from engine.errors import EngineError
from engine.song.length import clock, seconds
from engine.song.model import SetSong
from tui.input import offers
from tui.input.offers import FILE_END
from tui.input.prompts import Prompt
from tui.input.typed_values import wanted_key, wanted_tempo
from tui.screens.context import Context
from tui.screens.page import Page
from tui.session import decisions
from tui.session import rehearsal as stand
from tui.session.rehearsal import Rehearsal
from tui.session.session import in_a_line
from tui.session.song_numbers import gaps, in_order, missing_words
from tui.widgets.cells import Row, Rows, choice_row, row_text, text_row, text_rows
from tui.widgets.drawn import Drawn
from tui.widgets.lettering import pretty, written

ROOMY = 70
"""Columns from which a song's hardest shift has a place beside its title."""
MOST_NOTES = 3
"""Rows that the note of the cursor's song may take."""
MOST_FAULT = 5
"""Rows that the fault of a song that does not open may take (own choice: 300 letters at 60 columns)."""


class SetScreen(Page):
    """A row a song; the cursor's song is opened, moved, dropped, or gets another key or tempo."""

    kind: ClassVar[str] = "set"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.session.unfold_all()
        self.row = 0
        self._go_to(self.session.now.song)

    # What is shown

    def heading(self) -> tuple[str, str]:
        set_list = self.session.now.set_list
        where = "  ".join(filter(None, (set_list.title, set_list.date)))
        music = sum(seconds(place.song, place.steps) for place in self.session.now.songs)
        walked = sum(place.file in self.session.now.walked for place in self.session.now.songs)
        through = f"  {walked} played through" if walked else ""
        return f"SET  {where}", f"{set_list.total} song{'s' * (set_list.total != 1)}  {clock(music)}{through}"

    def body(self, width: int, height: int) -> Rows:
        set_list = self.session.now.set_list
        why = dict(zip(gaps(set_list), set_list.missing, strict=False))
        rows: Rows = [self._names(width)]
        row = self.row + 1
        for place, (number, index) in enumerate(in_order(set_list)):
            if index is None:
                words = f"{number:>3} -- {missing_words(*why[number])}"
                rows.append(
                    choice_row(words, width, True) if place == self.row else text_row(f" {words}", width, "warn")
                )
            else:
                rows.append(self._song(index, set_list.songs[index], width))
        if len(rows) == 1:
            rows.append(text_row("   no songs yet: n = a new song, a = add one of the folder", width, "text"))
        notes = self._notes(width)
        room, first = self._window(row, len(rows), height - len(notes))
        return rows[:1] + rows[first + 1 : first + room] + notes[: height - room]

    def _window(self, row: int, rows: int, height: int) -> tuple[int, int]:
        """Return how many rows of the list have room, and the first of them below its heading."""
        room = max(1, height - 1)
        return room, max(0, min(row + 1 - room, rows - room))

    def clicked(self, part: Drawn, x: int, y: int) -> None:
        """Put the cursor on the song that was clicked."""
        if part.id != "body":
            return
        count = len(in_order(self.session.now.set_list))
        height = part.size.height - len(self._notes(part.size.width))
        room, first = self._window(self.row + 1, count + 1, height)
        if 1 <= y < room and first + y <= count:
            self.row = first + y - 1
            self.show_now()

    def _names(self, width: int) -> Row:
        return text_row(" " + _columns("", "", "title", "key", "tempo", "length", "hardest shift", width), width, "dim")

    def _song(self, index: int, place: SetSong, width: int) -> Row:
        song = place.song
        mark = "✓" if place.file in self.session.now.walked else "▶" if index == self.session.now.song else " "
        words = _columns(
            f"{self.session.now.set_list.numbers[index]}",
            mark,
            song.title,
            pretty(song.key),
            f"{song.tempo:g}",
            clock(seconds(place.song, place.steps)),
            self.hardest(place),
            width,
        )
        return choice_row(words, width, index == self.cursor)

    def hardest(self, place: SetSong) -> str:
        """Return the hardest shift of a song in words, "" while it is not planned."""
        plan = self.context.plans.of(place)
        if plan is None or len(plan.steps) < 2:
            return "..." if plan is None else ""
        index = max(range(1, len(plan.steps)), key=lambda i: plan.steps[i].effort)
        before, after = plan.steps[index - 1].step, plan.steps[index].step
        # The same chord on both sides of a section line has two grips, one of each section.
        inside = before.section == after.section
        where = f"{after.section} {after.bar or 'pickup'}" if inside else f"{before.section} to {after.section}"
        return f"{written(before.symbol)} › {written(after.symbol)} {plan.steps[index].effort:.1f}, {where}"

    def _notes(self, width: int) -> Rows:
        place, unopened = self._here(), self._unopened()
        if unopened is not None:
            sign = self.context.keymap().sign
            keys = f"{sign('set.edit')} mends it here, {sign('set.drop')} drops it from the set"
            return text_rows(f"{missing_words(*unopened[1:])}.  {keys}", width, "warn", indent=3)[:MOST_FAULT]
        note = place.song.note_line if place is not None else ""
        words = [text_rows(note, width, "cue", indent=3)] if note else []
        hardest = self.hardest(place) if place is not None else ""
        # What the row of the song has no room for is told below.
        if place is not None and hardest not in ("", "...") and not self._whole(place, hardest, width):
            words.append(text_rows(f"hardest: {hardest}", width, "dim", indent=3))
        return [row for rows in words for row in rows][:MOST_NOTES]

    def _whole(self, place: SetSong, hardest: str, width: int) -> bool:
        return width >= ROOMY and len(_columns("", "", "", "", "", "", hardest, width)) < width

    def _line(self) -> tuple[int, int | None]:
        """Return (number, index) of the song under the cursor; the index is None where it does not open, the number 0
        where there is no song."""
        lines = in_order(self.session.now.set_list)
        self.row = max(0, min(self.row, len(lines) - 1))
        return lines[self.row] if lines else (0, None)

    @property
    def cursor(self) -> int:
        """The index of the song under the cursor, -1 where there is none that opens."""
        index = self._line()[1]
        return -1 if index is None else index

    def _go_to(self, index: int) -> None:
        """Put the cursor on a song."""
        lines = in_order(self.session.now.set_list)
        self.row = next((row for row, (_, one) in enumerate(lines) if one == index), self.row)

    def _here(self) -> SetSong | None:
        index = self._line()[1]
        return None if index is None else self.session.now.songs[index]

    def _unopened(self) -> tuple[int, str, str] | None:
        """Return (number, file, why) of the song under the cursor if it does not open."""
        number, index = self._line()
        why = dict(zip(gaps(self.session.now.set_list), self.session.now.set_list.missing, strict=False))
        return (number, *why[number]) if index is None and number in why else None

    # Commands

    def action_move(self, direction: int) -> None:
        self.row += direction
        self._line()
        self.show_now()

    def action_open(self) -> None:
        unopened = self._unopened()
        if unopened is not None:
            edit = self.context.keymap().sign("set.edit")
            self.session.say(f"song {unopened[0]} does not open: {edit} mends it", alarm=True)
        if self._here() is None:
            return
        now = self.session.now
        if self.cursor == now.song or self.session.attempt(lambda: stand.open_song(now, self.cursor)):
            self.action_close()

    def action_play(self) -> None:
        """Open the song, and the page of how it is played."""
        now = self.session.now
        here = self._here() is not None
        if here and (self.cursor == now.song or self.session.attempt(lambda: stand.open_song(now, self.cursor))):
            self.context.open("song")

    def action_carry(self, direction: int) -> None:
        now, index = self.session.now, self.cursor
        if self._here() and self.session.attempt(lambda: decisions.moved_song(now, index, direction)):
            self._go_to(index + direction)
            self.show_now()

    def action_drop(self) -> None:
        place, unopened = self._here(), self._unopened()
        name = place.song.title if place is not None else unopened[1] if unopened else ""
        if name:
            self.ask(Prompt("confirm", self.cursor, question=f"drop {name} from the set?"))

    def action_edit(self) -> None:
        """Open the song, and the page where it is written; one that does not open as text."""
        unopened, now = self._unopened(), self.session.now
        if unopened is not None:
            self.context.edit(unopened[1])
        elif self._here() is not None and (
            self.cursor == now.song or self.session.attempt(lambda: stand.open_song(now, self.cursor))
        ):
            self.context.open("form")

    def action_ask(self, kind: str) -> None:
        if self._here() is not None:
            self.ask(Prompt(kind, self.cursor))

    def action_add(self) -> None:
        songs = tuple(f"{file}{FILE_END}{title}" for file, title in self.context.files().songs_to_add())
        self.ask(Prompt("add", self.cursor, options=songs))

    def action_new(self) -> None:
        self.ask(Prompt("form", self.cursor, subject="new", question="the new song's title"))

    def action_title(self) -> None:
        title = self.session.now.set_list.title
        self.ask(Prompt("form", self.cursor, typed=title, subject="title", question="the set's title"))

    def action_copy(self) -> None:
        """Ask for the file that the set is copied into, with a name that is free."""
        path = self.context.files().path
        names = (f"{path.stem}-{count}.toml" for count in range(2, 1000)) if path else iter(())
        free = next((name for name in names if path and not path.with_name(name).exists()), "")
        self.ask(Prompt("form", self.cursor, typed=free, subject="copy", question="copy the set to the file"))

    def accept(self, prompt: Prompt) -> None:
        if prompt.kind == "form" and prompt.subject != "title":
            self._write(prompt)
            return
        if not self.session.attempt(lambda: self._answered(prompt)) and prompt.kind in ("add", "form"):
            # What was typed stays, with what is wrong above it.
            self.ask(replace(prompt, question=self.session.message))

    def _write(self, prompt: Prompt) -> None:
        """Write a file: a new song, which is then open and can be written, or a copy of the set."""
        files = self.context.files()
        try:
            if prompt.subject == "copy":
                self.session.say(f"copied to {files.copy_set(prompt.typed).name}; this set stays open")
                return
            made, file = files.with_new_song(prompt.typed)
        except EngineError as fault:
            self.ask(replace(prompt, question=in_a_line(fault)))
            return
        self.session.become(stand.open_song(made, len(made.songs) - 1))
        self._go_to(self.session.now.song)
        self.context.open("form")
        self.session.say(f"{file} is written: go on with its key, roadmap and bars")

    def _answered(self, prompt: Prompt) -> Rehearsal:
        now = self.session.now
        if prompt.kind == "confirm" and prompt.song < 0:
            return decisions.dropped_unopened(now, self._line()[0])
        if prompt.kind == "confirm":
            return decisions.dropped_song(now, prompt.song)
        if prompt.kind == "tempo":
            return decisions.retimed(now, prompt.song, wanted_tempo(prompt, now))
        if prompt.kind == "add":
            return self.context.files().with_song(offers.file_to_add(prompt.options, prompt.typed, prompt.choice))
        if prompt.kind == "form":
            return decisions.titled(now, prompt.typed)
        return decisions.transposed(now, prompt.song, wanted_key(prompt, now), self.session.unfold)


def _columns(number: str, mark: str, title: str, key: str, tempo: str, length: str, hardest: str, width: int) -> str:
    wide = max(8, min(34, width - (52 if width >= ROOMY else 26)))
    shown = row_text(text_row(title, wide, "text"))
    words = f"{number:>3} {mark:1} {shown} {key:<4}{tempo:>6}{length:>8}"
    return f"{words}   {hardest}" if width >= ROOMY else words
