"""A song as it is written: title, key, meter, tempo, feel, count, roadmap, and its sections; all in its own file."""

from dataclasses import replace
from typing import ClassVar

from engine.errors import ChartError, EngineError
from engine.song.bar_places import Moved
from engine.song.head_edits import with_head
from engine.song.writing import write_bars
from tui.input.prompts import Prompt
from tui.screens.changing_files import Change, ChangingFiles
from tui.screens.context import Context
from tui.screens.form.lines import WIDE, Form, Line, form_of, next_word
from tui.screens.page import Page
from tui.session.rehearsal import NotThere
from tui.session.session import in_a_line
from tui.widgets.cells import Rows, choice_row, pad, text_row

HINTS = {
    "title": "title", "key": "key (Eb, Cm)", "meter": "meter (4/4, 3/4, 6/8)", "tempo": "tempo",
    "feel": "feel: straight or swing", "count": "count: one bar, two bars, none, or beats",
    "roadmap": "as played (Intro, Verse x2)",
}  # fmt: skip
KEY_TAKEN = "Enter = chords stay  Tab = chords move"


class FormScreen(Page, ChangingFiles):
    """The cursor goes through the head and the sections of the open song's own file."""

    kind: ClassVar[str] = "form"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.cursor = 0
        self._text, self._form = "", Form((), None)
        """The file of the open song as it was when the page was shown last."""

    # What is shown

    def show_now(self) -> None:
        self._form = self._read()
        super().show_now()

    def heading(self) -> tuple[str, str]:
        place, song = self.session.now.here, self._form.song
        if place is None:
            return "no song is open", ""
        count = sum(len(part.bars) for part in song.sections) if song else 0
        return (
            f"WRITE  {place.file}",
            f"{_many(len(song.sections), 'section')}, {_many(count, 'bar')}" if song else "has faults",
        )

    def _read(self) -> Form:
        """Return the file of the open song as it is now; a song without one as it would be written."""
        place = self.session.now.here
        if place is None:
            return Form((), None)
        try:
            text = self.context.files().songs.files.text(place.file)
        except NotThere:
            from engine.song.writing import write_song

            text = write_song(place.song)
        except EngineError as fault:
            return Form((), None, in_a_line(fault))
        if text == self._text and self._form.lines:
            return self._form
        self._text = text
        return form_of(text)

    def body(self, width: int, height: int) -> Rows:
        form = self._form
        if form.fault:
            return [text_row(f" {form.fault}: t edits the text", width, "warn")]
        self.cursor = max(0, min(self.cursor, len(form.lines) - 1))
        below = self._bars(form, width)[: max(0, height - len(form.lines) - 1)]
        room = max(1, height - len(below))
        first = max(0, min(self.cursor - room // 2, len(form.lines) - room))
        rows: Rows = [
            choice_row(f" {line.name:<{WIDE}} {line.shown}", width, index == self.cursor)
            for index, line in list(enumerate(form.lines))[first : first + room]
        ]
        return pad(rows, width, room) + below

    def _bars(self, form: Form, width: int) -> Rows:
        """Return the bars of the section under the cursor, whole."""
        line = form.lines[self.cursor] if form.lines else None
        if line is None or line.section is None or form.song is None:
            return []
        return [text_row("", width, "text")] + [
            text_row(f"  {bars}", width, "text") for bars in write_bars(line.section.bars, form.song.meter)
        ]

    # Keys

    def _line(self) -> Line | None:
        lines = self._form.lines
        return lines[min(self.cursor, len(lines) - 1)] if lines else None

    def action_move(self, direction: int) -> None:
        self.cursor = max(0, min(self.cursor + direction, len(self._form.lines) - 1))
        self.show_now()

    def action_take(self) -> None:
        line = self._line()
        if line is None:
            self.action_text()
        elif line.section is not None:
            self._edit_at(line.section.name)
        else:
            taken = KEY_TAKEN if line.name == "key" else ""
            self._ask_for(line.name, HINTS[line.name], line.value, taken)

    def _ask_for(self, subject: str, question: str, typed: str = "", taken: str = "") -> None:
        self.ask(Prompt("form", self.session.now.song, typed, subject=subject, question=question, taken=taken))

    def action_change(self, direction: int) -> None:
        line = self._line()
        word = next_word(line.name, line.value or line.shown.removesuffix(" (usual)"), direction) if line else ""
        if line is None or not word:
            self.session.say("left and right change feel and count; Enter writes any line")
            return
        self.change_file(lambda text: with_head(text, line.name, word), f"{line.name} {word}")

    def action_text(self) -> None:
        if self.session.now.here is not None:
            self.context.edit(self.session.now.here.file)

    def _edit_at(self, section: str) -> None:
        """Open the text with the cursor on a section's bars."""
        from engine.song.fields import read_table

        place = self.session.now.here
        if place is not None:
            _, sheet = read_table(self._text, "")
            self.context.edit(place.file, sheet.places.inside(0, "sections", section, "bars")[0])

    def action_section(self, what: str) -> None:
        """Ask for what a change of the section under the cursor needs."""
        line, form = self._line(), self._form
        section = line.section if line else None
        if section is None and what == "add" and form.song is not None:
            section = form.song.sections[-1]
        if section is None:
            self.session.say("that is for a section: go down to one")
        elif what == "drop":
            self.ask(Prompt("confirm", self.session.now.song, typed=section.name, question=f"drop {section.name}?"))
        else:
            questions = {
                "add": f"new section after {section.name}",
                "rename": f"another name for {section.name}",
                "copy": f"a copy of {section.name}, called",
                "split": f"split {section.name} before bar, and a name (5 Answer)",
            }
            self._ask_for(f"{what} {section.name}", questions[what], section.name if what == "rename" else "")

    # Answers

    def changed(self, prompt: Prompt) -> Prompt:
        """Say what is wrong with what is typed, while it is typed."""
        if prompt.kind != "form":
            return prompt
        try:
            form_text = self._change(prompt)[0](self._text) if prompt.typed.strip() else ""
        except ChartError as error:
            return replace(prompt, fault=f"{error.faults[0].hint}  ({error.faults[0].found})")
        fault = form_of(form_text).fault if form_text else ""
        return replace(prompt, fault=fault)

    def accept(self, prompt: Prompt) -> None:
        if prompt.kind == "confirm":
            prompt = replace(prompt, kind="form", subject=f"drop {prompt.typed}")
        elif (checked := self.changed(prompt)).fault:
            # The line stays open with its fault, so that nothing typed is lost.
            self.ask(checked)
            return
        change, words, moved = self._change(prompt)
        self.change_file(change, words, moved)

    def other_answer(self, prompt: Prompt) -> None:
        """Put the chords into the key that is typed, as Tab asks for."""
        from engine.song.file_transposing import in_key
        from engine.song.head_edits import head_value

        def move(text: str) -> str:
            return in_key(text, head_value(with_head(text, "key", prompt.typed), "key"))

        self.change_file(move, f"key {prompt.typed.strip()} for good")

    def _change(self, prompt: Prompt) -> tuple[Change, str, Moved | None]:
        """Return (the change of the file's text, what it is in words, where the bars go)."""
        from tui.screens.form.changes import roadmap_change, section_change

        what, _, section = prompt.subject.partition(" ")
        if section:
            return section_change(what, section, prompt.typed)
        if what == "roadmap":
            return lambda text: roadmap_change(text, prompt.typed), f"roadmap {prompt.typed}", None
        return lambda text: with_head(text, what, prompt.typed), f"{what} {prompt.typed}", None

    def file_changed(self, words: str) -> None:
        """Put the cursor on the section that was made."""
        self.show_now()
        names = [line.name if line.section else "" for line in self._form.lines]
        made = words.split(": ")[-1]
        if words.startswith(("add: ", "copy: ", "name: ", "split: ")) and made in names:
            self.cursor = names.index(made)
            self.show_now()


def _many(count: int, what: str) -> str:
    return f"{count} {what}" if count == 1 else f"{count} {what}s"
