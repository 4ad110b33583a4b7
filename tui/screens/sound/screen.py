"""Ports, channel, sound, click, foot switches and what is sounded; a test chord, and silence on one key."""

from dataclasses import dataclass
from time import monotonic
from typing import ClassVar

from engine.answer_names import ANSWERS
from engine.comp_names import RESTRIKES
from engine.song.instrument import RANGES
from tui.audio import BUILT_IN
from tui.midi.port_words import names_for
from tui.persistence.player import GUIDES, NO_PORT, SOUNDS_BY_SONG
from tui.playback.player_hands import SWITCHES
from tui.screens.context import Context
from tui.screens.page import Page
from tui.screens.sound.words import (
    ANSWER_WORDS,
    CAUTION,
    GUIDE_WORDS,
    RESTRIKE_WORDS,
    ROLE_WORDS,
    SETTINGS,
    SWITCH_WORDS,
    latency_words,
    program_words,
    volume_words,
    wishes_words,
    yes_no,
)
from tui.widgets.cells import Rows, choice_row, text_row, text_rows

TEST_CHORD = (48, 55, 64, 71)
"""C major seventh in open position, as MIDI numbers."""

LOOK = 0.5
"""Seconds between two looks at the ports and at what a switch has sent."""


@dataclass(frozen=True, slots=True)
class Line:
    """A row: its words, its value, and what Enter and the arrows change."""

    name: str
    value: str
    deed: str


class SoundScreen(Page):
    """A row a setting, then a row a port; left and right change a value, Enter takes the next one."""

    kind: ClassVar[str] = "sound"

    def __init__(self, context: Context) -> None:
        super().__init__(context)
        self.cursor = 0

    def on_mount(self) -> None:
        # The list of ports comes from a process of its own and grows while one looks.
        self.context.sound.clock  # noqa: B018
        self.set_interval(LOOK, self._look)

    def _look(self) -> None:
        hands = self.context.hands()
        learnt = hands.learnt(monotonic())
        if learnt is not None:
            setting, words = learnt
            self._keep_switch(setting, words)
            self.session.say(f"learnt: {words}")
        self.show_now()

    def heading(self) -> tuple[str, str]:
        return "SOUND", self.context.sound.status

    # What is shown

    def lines(self) -> list[Line]:
        """Return every row."""
        sound = self.context.sound
        count = self.session.now.here.song.count if self.session.now.here else ""
        rows = [
            Line("channel", str(sound.channel), "channel"),
            Line("sounded in time", GUIDE_WORDS[sound.guide], "guide"),
            Line("each chord as you step", yes_no(self.context.step_sound.on), "steps"),
            Line("test chord", "Enter plays it", "test"),
            Line("play through no port", "in use" if not sound.port else "", "port:"),
            *(
                Line(f"play through port {name}", "in use" if name == sound.port else "", f"port:{name}")
                for name in self.ports()
            ),
            Line("built-in sound beside the port", yes_no(sound.both), "both"),
            Line("count in before going in time", f"{yes_no(sound.counted)}   (this song: {count})", "count"),
            Line("click through the music", yes_no(sound.click), "click"),
            Line("shared keys struck again (piano)", RESTRIKE_WORDS[sound.restrike], "restrike"),
            Line("program called up with a song", program_words(sound.program), "program"),
            Line("bank", "left alone" if sound.bank is None else str(sound.bank), "bank"),
            Line("volume", volume_words(sound.volume), "volume"),
            Line("click's volume", volume_words(sound.click_volume), "click_volume"),
        ]
        rows += [Line("this song asks for", words, "wishes")] if (words := self._wishes()) else []
        rows += [Line(words, sound.ports.get(role) or "none", f"role:{role}") for role, words in ROLE_WORDS.items()]
        rows += [Line(words, self._switch_words(name), f"switch:{name}") for name, words in SWITCH_WORDS.items()]
        hands = self.context.hands()
        rows.append(Line("from a click to your key", latency_words(self.context.player().latency), "latency"))
        rows.append(Line("instrument falls silent if the program fails", yes_no(sound.sensing), "sensing"))
        rows.append(Line("a chord counts as found", ANSWER_WORDS[hands.answers], "answers"))
        rows.append(Line("the stand steps when the next chord is found", yes_no(hands.steps_on), "hands"))
        return rows

    def _wishes(self) -> str:
        """Return what the open song's own [midi] table says, in words; it goes before the rows above it."""
        place = self.session.now.here
        return wishes_words(place.song.midi) if place is not None else ""

    def _switch_words(self, setting: str) -> str:
        if self.context.hands().learns == setting:
            return "press it now ... (Enter gives up)"
        words = getattr(self.context.player(), setting, "")
        return words or (
            "Enter learns it" if self.context.sound.ports.get("in") else "choose a port to listen to first"
        )

    def ports(self) -> tuple[str, ...]:
        seen = self.context.sound.clock.ports()
        names = (BUILT_IN, *(seen.outputs if seen is not None else ()))
        own = self.context.sound.port
        return names if not own or own in names else (own, *names)

    def body(self, width: int, height: int) -> Rows:
        lines = self.lines()
        self.cursor = max(0, min(self.cursor, len(lines) - 1))
        wide = max(20, min(48, width * 11 // 20))
        seen = self.context.sound.clock.ports()
        words = "looking for ports ..." if seen is None else seen.trouble or ""
        below = [(words, "cue")] if words else []
        below.append((CAUTION, "dim"))
        advice = [row for text, role in below for row in text_rows(text, width, role, indent=3)]
        if len(advice) > height // 3:
            advice = [text_row(f"   {text}", width, role) for text, role in below]
        room = max(1, height - len(advice) - 1)
        first = max(0, min(self.cursor - room // 2, len(lines) - room))
        rows: Rows = [
            choice_row(f"  {line.name[:wide]:<{wide}} {line.value}", width, index == self.cursor)
            for index, line in list(enumerate(lines))[first : first + room]
        ]
        rows.append(text_row("", width, "text"))
        return rows + advice

    # Keys

    def action_move(self, direction: int) -> None:
        self.cursor = max(0, min(self.cursor + direction, len(self.lines()) - 1))
        self.show_now()

    def action_change(self, direction: int) -> None:
        self._change(self.lines()[self.cursor].deed, direction)
        self.show_now()

    def action_take(self) -> None:
        deed = self.lines()[self.cursor].deed
        if deed == "test":
            self.context.sound.clock.sound(TEST_CHORD, channel=self.context.sound.here().channel, seconds=2.0)
        elif deed.startswith("port:"):
            self.context.sound.use(deed.removeprefix("port:"))
            self.context.keep(port_out=self.context.sound.port or NO_PORT)
        elif deed.startswith("switch:"):
            self._learn(deed.removeprefix("switch:"))
        elif deed == "latency":
            self.context.measure()
        else:
            self._change(deed, 1)
        self.show_now()

    def _change(self, deed: str, direction: int) -> None:
        sound, keep = self.context.sound, self.context.keep
        if deed == "channel":
            sound.channel = (sound.channel - 1 + direction) % RANGES["channel"][1] + 1
            keep(channel=sound.channel)
        elif deed == "guide":
            sound.guide = GUIDES[(GUIDES.index(sound.guide) + direction) % len(GUIDES)]
            keep(guide=sound.guide)
        elif deed == "restrike":
            sound.restrike = RESTRIKES[(RESTRIKES.index(sound.restrike) + direction) % len(RESTRIKES)]
            keep(restrike=sound.restrike)
        elif deed == "steps":
            self.context.step_sound.toggle()
        elif deed == "click":
            sound.click = not sound.click
            keep(click=sound.click)
        elif deed == "count":
            sound.counted = not sound.counted
            keep(count_in=sound.counted)
        elif deed == "program":
            choices = ["", SOUNDS_BY_SONG, *map(str, range(1, RANGES["program"][1] + 1))]
            sound.program = choices[(choices.index(sound.program) + direction) % len(choices)]
            keep(program=sound.program)
            sound.enter()
        elif deed == "both":
            sound.sound_both(not sound.both)
            keep(both=sound.both)
        elif deed in ("bank", "volume", "click_volume"):
            self._change_number(deed, direction)
        elif deed == "sensing":
            sound.sense(not sound.sensing)
            keep(sensing=sound.sensing)
        elif deed == "latency":
            keep(latency=None)
        elif deed == "answers":
            hands = self.context.hands()
            hands.answers = ANSWERS[(ANSWERS.index(hands.answers) + direction) % len(ANSWERS)]
            keep(answers=hands.answers)
        elif deed == "hands":
            hands = self.context.hands()
            hands.steps_on = not hands.steps_on
            keep(hands_step=hands.steps_on)
        elif deed.startswith("role:"):
            self._change_role(deed.removeprefix("role:"), direction)
        elif deed.startswith("switch:"):
            self._keep_switch(deed.removeprefix("switch:"), "")

    def _change_number(self, name: str, direction: int) -> None:
        sound = self.context.sound
        value = {"bank": sound.bank, "volume": sound.volume, "click_volume": sound.click_volume}[name]
        # All values, and one place for the number left alone.
        places = RANGES[name.removeprefix("click_")][1] + 2
        turned = ((-1 if value is None else value) + 1 + direction) % places - 1
        new = None if turned < 0 else turned
        self.context.keep(**{name: new})
        if name == "click_volume":
            sound.turn_click(new)
            return
        if name == "bank":
            sound.bank = new
        else:
            sound.volume = new
        sound.enter()

    def action_volume(self, levels: int) -> None:
        self.session.say(self.context.sound.turn_volume(levels))
        self.context.keep(volume=self.context.sound.volume)
        self.show_now()

    def _change_role(self, role: str, direction: int) -> None:
        """Take the next port for a role; what leads or follows may also be a port of ours that others connect to."""
        sound = self.context.sound
        seen = sound.clock.ports()
        own = sound.ports.get(role, "")
        names = [] if seen is None else list(names_for(seen, role))
        names += [BUILT_IN] if role in ("click", "thru") else []
        choices = ["", *names]
        choices += [own] if own and own not in choices else []
        port = choices[(choices.index(own) + direction) % len(choices)]
        sound.use_for(role, port)
        self.context.keep(**{SETTINGS[role]: port})
        if role == "lead":
            sound.lead()

    def _learn(self, setting: str) -> None:
        hands = self.context.hands()
        hands.learn("" if hands.learns == setting else setting)

    def _keep_switch(self, setting: str, words: str) -> None:
        """Keep a learnt switch; the same switch does nothing else any more."""
        kept = {name: "" for name in SWITCHES if words and getattr(self.context.player(), name, "") == words}
        self.context.keep(**{**kept, setting: words})
        self.context.hands().use(self.context.player())

    def action_close(self) -> None:
        self.context.hands().learn("")
        super().action_close()

    def action_silence(self) -> None:
        self.context.sound.silence()
        self.session.say("silence on all channels")
