"""The application: screens, themes, the player's own keys, and a terminal left as it was found, whatever ends it."""

import asyncio
import gc
import os
import sys
import threading
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING, Any

from textual.app import App
from textual.message import Message
from textual.theme import Theme

from engine.song.model import SetList
from tui.input.keymap import Keymap
from tui.persistence.own_settings import OwnSettings
from tui.playback.incoming import Hearing
from tui.playback.sound import Sound
from tui.playback.transport import Along
from tui.screens.stand.screen import StandScreen
from tui.session.decisions import is_bar_note
from tui.session.desk import Desk
from tui.session.notices import Complaints
from tui.signals import catch_signals, kept_report
from tui.widgets.drawn import Look
from tui.widgets.palette import GROUND, THEMES

if TYPE_CHECKING:
    from tui.midi.clock import ClockEvent
    from tui.persistence.player import Player
    from tui.playback.player_hands import Hands


class StandApp(App[None]):
    """Opens a set on the stand."""

    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = None
    BINDINGS = []  # noqa: RUF012
    TITLE = "stillhand"

    class Heard(Message):
        """The clock said something; posted from its thread."""

        def __init__(self, event: "ClockEvent") -> None:
            super().__init__()
            self.event = event

    class ThreadFailed(Message):
        """A thread of ours ended in an exception."""

        def __init__(self, words: str) -> None:
            super().__init__()
            self.words = words

    def __init__(
        self,
        set_list: SetList,
        path: Path | None = None,
        port: str | None = None,
        song: int = 0,
        step: int | None = None,
        lead: str | None = None,
        follow: str | None = None,
    ) -> None:
        # Textual takes NO_COLOR away and greys everything, hands and idle keys alike: our own plain theme is better.
        self.without_colour = bool(os.environ.pop("NO_COLOR", ""))
        super().__init__()
        self.desk = Desk(set_list, path, song, step or 0)
        self._resume = step is None
        self.sound = Sound(self._heard)
        self.along = Along(self.desk, self.sound)
        self.hearing = Hearing(self)
        self.own = OwnSettings(self)
        self.along.ended = self.hearing.ridden
        self.hands: Hands | None = None
        self.player: Player | None = None
        self.picture_theme = "plain" if self.without_colour else "dark"
        self.chord_style = "words"
        self.numbers = False
        self.ascii_only = not _utf8()
        self.keymap = Keymap(ascii_only=self.ascii_only)
        self.coarse = self.ascii_only or os.environ.get("TERM") == "linux"
        self.held: tuple[int, ...] = ()
        self.port = port
        self._roles = {"lead": lead, "follow": follow}
        self._report = ""
        self._complaints = Complaints()
        self._told = ("", False)
        self._beat = 0
        for theme in ("dark", "light"):
            self.register_theme(_theme(theme))
        self.theme = _named(self.picture_theme)

    # Beginning

    def on_mount(self) -> None:
        self.own.load()
        self._resume_place()
        catch_signals(self)
        threading.excepthook = self._thread_failed
        self.stand = StandScreen(self.desk)
        self.push_screen(self.stand)
        self.desk.told.append(self._show)
        self.desk.stepped.append(self.hearing.stepped)
        self.call_after_refresh(self._begin)

    async def _begin(self) -> None:
        """What may wait until the first chord is on the screen."""
        await self.desk.start()
        if self.port:
            self.sound.use(self.port)
        self._open_ports()
        self.set_interval(2.0, self._look_outside)
        gc.collect()
        gc.freeze()
        gc.enable()  # the command line has turned it off

    def _open_ports(self) -> None:
        """Open what the options or the player's settings name besides the instrument."""
        player = self.player
        if player is None:
            return
        wanted = {"in": player.port_in, "lead": player.lead, "follow": player.follow}
        wanted |= {role: port for role, port in self._roles.items() if port}
        for role, port in wanted.items():
            if port:
                self.sound.use_for(role, port)
        self.sound.lead(self.desk)

    def listen(self) -> "Hands":
        """Return what judges the player's hands, made when first asked for."""
        if self.hands is None:
            from tui.playback.player_hands import Hands

            self.hands = Hands(self.desk)
            if self.player is not None:
                self.hands.use(self.player)
        return self.hands

    def _resume_place(self) -> None:
        """Go where the last session of this set was left, unless a song was asked for."""
        from tui.persistence import store

        path = self.desk.path
        session = store.load_session()
        toured = session.more.get("toured", 0)
        self.desk.toured = toured if isinstance(toured, int) else 0
        if path is None or session.path is None or Path(session.path) != path.resolve():
            return
        self.desk.resume(session.more)
        if self._resume and self.desk.now.song == 0:
            self.desk.go_to(session.song, session.step, session.more.get("file"))
            self.desk.resume(session.more)

    # Showing

    def _show(self) -> None:
        screen = self.screen_stack[-1] if self.screen_stack else None
        show = getattr(screen, "show_now", None)
        if show is not None:
            show()

    def show(self, name: str) -> None:
        """Open another screen over the stand."""
        from tui.screens import opened

        self.push_screen(opened(name, self, self.screen.name or "stand"))

    def show_top(self) -> None:
        """Show the topmost screen anew."""
        self._show()

    @property
    def look(self) -> Look:
        """How pictures become ink."""
        return Look(self.picture_theme, self.ascii_only)

    def status_line(self) -> str:
        """Return what sounds through what."""
        word = self.hands.word if self.hands is not None else ""
        steps = "each chord sounds" if self.sound.each_step else ""
        return "  ".join(part for part in (word, self.sound.status, steps) if part)

    def complaints(self) -> tuple[str, bool]:
        """Return what is to be read of the standing complaints now, and whether the help has more of them."""
        return self._complaints.told(self.desk.trouble, monotonic())

    def keys_shown(self, screen: str, width: int) -> str:
        """Return a screen's line of keys, with a mark where a complaint can be read in the help."""
        mark = f"! see {self.keymap.sign('stand.help')}  " if self.complaints()[1] else ""
        return mark + self.key_line(screen, width - len(mark))

    def key_line(self, screen: str, width: int) -> str:
        """Return as many of a screen's keys as there is room for, the way to the help always."""
        return self.keymap.line(screen, width)

    def _look_outside(self) -> None:
        before = self.complaints()
        self.desk.others.look()
        if self.complaints() != before or self._told != before:
            self._show()
        self._told = self.complaints()

    def note_here(self) -> str:
        """Return the note that stands at the present bar, to be changed."""
        place, step = self.desk.now.here, self.desk.now.now
        if place is None or step is None:
            return ""
        head = f"{step.section} bar {step.bar}:"
        lines = [line for line in place.song.note.splitlines() if is_bar_note(line) and line.startswith(head)]
        return lines[0].removeprefix(head).strip() if lines else ""

    def horn_chords(self) -> tuple[tuple[str, str, str], ...]:
        """Return (horn's key, present chord, coming chord) as each horn of the line-up reads them."""
        now = self.desk.now
        if now.layout == "player" or not now.set_list.horns or now.now is None:
            return ()
        from tui.widgets.horns import read_by

        coming = now.steps[now.coming].symbol if now.coming is not None else ""
        return tuple((horn, read_by(horn, now.now.symbol), read_by(horn, coming)) for horn in now.set_list.horns)

    def use_theme(self, theme: str) -> None:
        """Change to dark, light or plain."""
        self.picture_theme = theme
        self.theme = _named(theme)
        self._show()

    def next_theme(self) -> None:
        theme = THEMES[(THEMES.index(self.picture_theme) + 1) % len(THEMES)]
        self.use_theme(theme)
        self.keep_player(theme=theme)
        self.desk.say(f"theme: {theme}")

    def keep_player(self, **changes: Any) -> None:
        """Keep a setting of the player's for every set."""
        self.own.keep(**changes)

    # Hearing

    def _heard(self, event: "ClockEvent") -> None:
        self.post_message(self.Heard(event))

    def on_stand_app_heard(self, message: Heard) -> None:
        self.hearing.hear(message.event)
        self._show()

    def _thread_failed(self, failure: "threading.ExceptHookArgs") -> None:
        name = failure.thread.name if failure.thread else "a thread"
        self.post_message(self.ThreadFailed(f"{name}: {failure.exc_value or failure.exc_type.__name__}"))

    def on_stand_app_thread_failed(self, message: ThreadFailed) -> None:
        self.desk.trouble["thread"] = message.words
        self._show()

    # Ending

    def run(self, *arguments: Any, **options: Any) -> None:
        """Run until the player quits, and leave with the code that says how it ended."""
        if sys.__stderr__ is None or not sys.__stderr__.isatty():
            print("The stand draws on standard error, which is redirected. Start it without 2>.")
            sys.exit(2)
        super().run(*arguments, **options)
        if self._report:
            print(self._report, file=sys.stderr)
        if self.return_code:
            sys.exit(self.return_code)

    def _fatal_error(self) -> None:
        """Keep the report of a bug in a file, give the terminal back, and say in one line where it lies."""
        self._report = kept_report()
        self._close_messages_no_wait()

    def leave(self) -> None:
        """Quit; what is not saved yet is saved on the way out."""
        self.exit(return_code=0)

    async def on_unmount(self) -> None:
        await self.desk.close()
        # The notes must stop before the terminal is given back; closing waits for at most a moment.
        await asyncio.to_thread(self.sound.close)


def _theme(name: str) -> Theme:
    ink = {"dark": "#e6e6e0", "light": "#1a1a1e"}[name]
    ground = GROUND[name]
    return Theme(_named(name), "#4db8ff", foreground=ink, background=ground, surface=ground, dark=name == "dark")


def _named(theme: str) -> str:
    """Return Textual's theme for one of ours: plain is the terminal's own colours."""
    return "ansi-dark" if theme == "plain" else f"stand-{theme}"


def _utf8() -> bool:
    encoding = (getattr(sys.__stderr__, "encoding", "") or "").lower().replace("-", "")
    return encoding == "utf8"
