"""The application: puts everything together, shows screens, and leaves the terminal as it was found."""

import asyncio
import gc
import os
import sys
import threading
from collections import deque
from datetime import datetime
from functools import cached_property
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING, Any

from textual.app import App
from textual.driver import Driver
from textual.message import Message
from textual.screen import Screen
from textual.theme import Theme
from textual.widget import Widget

from engine.errors import EngineError
from engine.song.length import clock, seconds
from engine.song.model import SetList
from tui.input.keymap import Keymap, faults
from tui.persistence.own_settings import OwnSettings
from tui.persistence.player import NO_PORT
from tui.persistence.report import kept_report
from tui.planning.plans import Plans
from tui.playback.incoming import Hearing
from tui.playback.sound import Sound
from tui.playback.step_sound import StepSound
from tui.playback.transport import Transport
from tui.screens import opened
from tui.screens.context import Context
from tui.screens.stand.screen import StandScreen
from tui.session.notices import UNSAVED, Complaints
from tui.session.session import Session, in_a_line
from tui.session.song_numbers import does_not_open, gaps
from tui.terminal import HUNG_UP
from tui.widgets.display import Display
from tui.widgets.palette import GROUND

if TYPE_CHECKING:
    from tui.midi.clock import ClockEvent
    from tui.persistence.open_files import OpenFiles
    from tui.persistence.player import Player


HELD_SHOWN = 0.05
"""Seconds in which keys of the instrument that go down or up are shown at the latest."""


class StandApp(App[None]):
    """Opens a set on the stand."""

    ENABLE_COMMAND_PALETTE = False
    AUTO_FOCUS = None
    ALLOW_SELECT = False
    BINDINGS = []  # noqa: RUF012
    TITLE = "stillhand"

    class Heard(Message):
        """The clock said something; posted from its thread, once for all that comes before it is taken up."""

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
        self._resume = step is None
        self._ports = {"out": port, "lead": lead, "follow": follow}
        self._report = ""
        self._events: deque[ClockEvent] = deque()
        self._held_shows = False
        self._showing = False
        self._unsaved: tuple[str, ...] = ()
        self._told = ("", False)
        self._began = monotonic()
        self._minute = ""
        self._counted: tuple[object, int, str] = ((), -1, "")
        ascii_only = not _utf8()
        coarse = ascii_only or os.environ.get("TERM") == "linux"
        self.display_settings = Display(
            "plain" if self.without_colour else "dark", ascii_only=ascii_only, coarse=coarse
        )
        self.keymap = Keymap(ascii_only=ascii_only)
        self.session = Session(set_list, song=song, step=step or 0)
        self._path = path
        self._opened = set_list
        self.plans = Plans(self.session)
        self.own = OwnSettings(lambda words: self.session.notice("player", words), self.session.tasks.start)
        self.sound = Sound(self.session, self._heard)
        self.step_sound = StepSound(self.session, self.plans, self.sound)
        self.transport = Transport(self.session, self.plans, self.sound)
        self.hearing = Hearing(
            self.session,
            self.plans,
            self.sound,
            self.step_sound,
            self.transport,
            lambda: self.own.player,
            self._tread,
            self.set_timer,
            self.show_top,
        )
        self.context = Context(
            session=self.session,
            plans=self.plans,
            files=lambda: self.files,
            display=self.display_settings,
            complaints=Complaints(),
            sound=self.sound,
            step_sound=self.step_sound,
            transport=self.transport,
            keymap=lambda: self.keymap,
            player=lambda: self.own.player,
            keep=self.own.keep,
            hands=lambda: self.hearing.hands,
            held=lambda: self.hearing.held,
            record=self.hearing.record,
            measure=lambda: self.hearing.measure(lambda latency: self.own.keep(latency=latency)),
            status=self._status,
            time=lambda: self._time(),
            open=self._open,
            edit=self._edit,
            leave=lambda: self.leave(),
            show_top=self.show_top,
        )
        for theme in ("dark", "light"):
            self.register_theme(_theme(theme))
        self.theme = _named(self.display_settings.theme)

    @property
    def focused(self) -> Widget | None:
        """What keystrokes go to: nothing but a text that is written. All others go to the screen, which knows whether
        they write or are commands; sent to a line that is typed in, they would overtake those pressed before it."""
        return super().focused if getattr(self.screen, "writes_text", False) else None

    @cached_property
    def files(self) -> "OpenFiles":
        """The set's and the songs' files; nothing of them is wanted for the first picture."""
        from tui.persistence.open_files import OpenFiles

        return OpenFiles(self.session, self._path, self._opened)

    # Beginning

    def on_mount(self) -> None:
        self._take(self.own.load())
        self._resume_place()
        threading.excepthook = self._thread_failed
        self.stand = StandScreen(self.context)
        self.push_screen(self.stand)
        self.session.on_show.append(self.show_top)
        self.session.on_step.append(self.hearing.stepped)
        self.call_after_refresh(self._begin)

    def _take(self, player: "Player") -> None:
        """Take over the player's settings."""
        own = dict(player.keys)
        wrong = faults(own)
        if wrong:
            self.session.notices["keys"] = f"your keys are not used: {wrong[0]}"
        else:
            self.keymap = Keymap(own, self.display_settings.ascii_only)
        self.session.resume({"layout": player.layout})
        self.plans.reach = player.reach or self.plans.reach
        self.plans.register = player.register
        if not self.without_colour:
            self.display_settings.theme = player.theme
        self.display_settings.style = "signs" if player.notation == "signs" else "words"
        self.display_settings.numbers = player.notation == "numbers"
        self.sound.take(player)

    async def _begin(self) -> None:
        """What may wait until the first chord is on the screen."""
        if not self.session.now.songs and self.session.now.set_list.missing:
            self._edit(self.session.now.set_list.missing[0][0])
        elif faulty := does_not_open(gaps(self.session.now.set_list)):
            self.session.say(faulty, alarm=True)
        await self.files.start()
        await self.plans.start()
        player, ports = self.own.player, self._ports
        if port := ports["out"] or player.port_out:
            self.sound.use("" if port == NO_PORT else port)
        others = {
            "in": player.port_in,
            "lead": ports["lead"] or player.lead,
            "follow": ports["follow"] or player.follow,
            "click": player.click_out,
            "thru": player.thru,
        }
        for role, port in others.items():
            if port:
                self.sound.use_for(role, port)
        self.sound.lead()
        self.set_interval(2.0, self._look_outside)
        gc.collect()
        gc.freeze()
        gc.enable()  # the command line has turned it off

    def _resume_place(self) -> None:
        """Go where the last session of this set was left, unless a song was asked for."""
        from tui.persistence import store

        path = self._path
        toured = store.load_session().more.get("toured", 0)
        self.session.toured = toured if isinstance(toured, int) else 0
        saved = store.load_session(path) if path is not None else store.Session()
        if saved.path is None:
            return
        self.session.resume(saved.more)
        if self._resume and self.session.now.song == 0:
            self.session.go_to(saved.song, saved.step, saved.more.get("file"))
            self.session.resume(saved.more)

    # Showing

    def show_top(self) -> None:
        """Show the topmost screen anew; while keystrokes wait, once after the last of them."""
        screen = self.screen_stack[-1] if self.screen_stack else None
        if screen is None or not screen.message_queue_size:
            self._show(screen)
        elif not self._showing:
            self._showing = screen.call_later(self._show_waiting)

    def _show_waiting(self) -> None:
        self._showing = False
        self._show(self.screen_stack[-1] if self.screen_stack else None)

    def _show(self, screen: Screen[Any] | None) -> None:
        theme = _named(self.display_settings.theme)
        if theme != self.theme:
            self.theme = theme
        show = getattr(screen, "show_now", None)
        if show is not None:
            show()

    def _edit(self, file: str, line: int = 1) -> None:
        """Open a song's own file to be written by hand, at a line; one that cannot be read is said."""
        from tui.screens.edit.screen import EditScreen

        try:
            text = self.files.songs.files.text(file)
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
        else:
            self.push_screen(EditScreen(self.context, file, text, line))

    def _open(self, name: str) -> None:
        self.push_screen(opened(name, self.context, self.screen.name or "stand"))

    def _status(self) -> str:
        steps = "each chord sounds" if self.step_sound.on else ""
        take = "TAKE" if self.hearing.take.on else ""
        return "  ".join(part for part in (self.hearing.word, take, self.sound.status, steps) if part)

    def _time(self) -> str:
        """Return the time of day, how long this evening has taken and should have up to here, and the song's length."""
        now = self.session.now
        if self._counted[0] is not now.songs or self._counted[1] != now.song:
            # Counted once a song: this is asked for at every picture.
            lengths = [clock(seconds(place.song, place.steps)) for place in now.songs[now.song :][:1]]
            planned = clock(sum(seconds(place.song, place.steps) for place in now.songs[: now.song]))
            self._counted = (now.songs, now.song, f"planned {planned}" + "".join(f", song {one}" for one in lengths))
        return f"{datetime.now():%H:%M}  set {clock(monotonic() - self._began)}, {self._counted[2]}"

    def _look_outside(self) -> None:
        before = self.context.told()
        self.files.others.look()
        minute = f"{datetime.now():%H:%M}"
        if self.context.told() != before or self._told != before or minute != self._minute:
            self.show_top()
        self._minute = minute
        self._told = self.context.told()

    # Hearing

    def _heard(self, event: "ClockEvent") -> None:
        self._events.append(event)
        if len(self._events) == 1:
            self.post_message(self.Heard())

    def on_stand_app_heard(self) -> None:
        heard = getattr(self.screen, "heard", None)
        events = [self._events.popleft() for _ in range(len(self._events))]
        for event in events:
            self.hearing.hear(event)
            if heard is not None:
                heard(event)
        if any(event.kind != "in" for event in events):
            self.show_top()
        elif not self._held_shows:
            # Keys that come in by the hundred must not keep those of the terminal waiting.
            self._held_shows = True
            self.set_timer(HELD_SHOWN, self._show_held)

    def _show_held(self) -> None:
        self._held_shows = False
        self.show_top()

    def _tread(self, switch: str) -> None:
        """Do what a foot switch asks for on the screen that is open."""
        tread = getattr(self.screen, "tread", None)
        if tread is not None:
            tread(switch)

    def _thread_failed(self, failure: "threading.ExceptHookArgs") -> None:
        name = failure.thread.name if failure.thread else "a thread"
        self.post_message(self.ThreadFailed(f"{name}: {failure.exc_value or failure.exc_type.__name__}"))

    def on_stand_app_thread_failed(self, message: ThreadFailed) -> None:
        self.session.notices["thread"] = message.words
        self.show_top()

    # Ending

    def run(self, *arguments: Any, **options: Any) -> None:
        """Run until the player quits, and leave with the code that says how it ended."""
        if sys.__stderr__ is None or not sys.__stderr__.isatty():
            print("The stand draws on standard error, which is redirected. Start it without 2>.")
            sys.exit(2)
        super().run(*arguments, **options)
        for words in (*self._unsaved, self._report):
            if words:
                print(words, file=sys.stderr)
        # Whoever ends without a code has not ended as meant.
        code = 1 if self.return_code is None else self.return_code or int(bool(self._unsaved))
        if code == HUNG_UP:
            # What is left to be written to a terminal that has gone would fail, and change the code.
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.__stderr__.fileno())
        if code:
            sys.exit(code)

    def get_driver_class(self) -> type[Driver]:
        if sys.platform == "win32":
            return super().get_driver_class()
        from tui.terminal.driver import TerminalDriver

        return TerminalDriver

    def _fatal_error(self) -> None:
        """Keep the report of a bug in a file, give the terminal back, and say in one line where it lies."""
        self._report = kept_report(self._exception or RuntimeError("no reason given"), ", your set and place are kept")
        self._return_code = 1
        self._close_messages_no_wait()

    def panic(self, *_renderables: object) -> None:
        self._fatal_error()

    def leave(self) -> None:
        """Quit; what is not saved yet is saved on the way out."""
        self.exit(return_code=0)

    async def on_unmount(self) -> None:
        await self.own.saved()
        await self.hearing.take.end()
        await self.files.close()
        self._unsaved = tuple(words for words in self.session.notices.values() if words.startswith(UNSAVED))
        if self._unsaved:
            self._unsaved += self.files.unsaved()
        self.session.close()
        await self.plans.close()
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
