"""Everything that a keystroke does, in one table: the line of keys, the help, the player's own keys, the pedals, the
lock and the tests read it.

Keystrokes are called as Textual calls them. No command of the stand lies on Esc (a terminal reports it late), needs
shift or two keys at once.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

Run = Callable[[Any, str], None]
"""What a command does, given the screen and the keystroke."""


@dataclass(frozen=True, slots=True)
class Command:
    """Something a keystroke does on one screen.

    `id` is dotted, the screen first; `keys` are the usual keystrokes, the first one shown; `words` stand in the help;
    `short` stands in the line of keys, "" to leave it to the help; `confirm` says what a locked stand asks about
    first, "" where it does not.
    """

    id: str
    keys: str
    run: Run
    words: str
    short: str = ""
    confirm: str = ""


def do(action: str, *arguments: Any) -> Run:
    """Return what calls a screen's action with these arguments."""
    return lambda screen, _key: getattr(screen, f"action_{action}")(*arguments)


def with_key(action: str) -> Run:
    """Return what calls a screen's action with the keystroke: a figure that was pressed."""
    return lambda screen, key: getattr(screen, f"action_{action}")(key)


_STAND = (
    Command(
        "stand.forward", "space,right,pagedown,enter", do("forward"), "next chord; at the end the next song", "next"
    ),
    Command("stand.back", "left,backspace,pageup", do("back"), "chord before", "back"),
    Command("stand.section", "down", do("section", 1), "next section"),
    Command("stand.section_back", "up", do("section", -1), "section before"),
    Command("stand.jump", "j", do("ask", "jump"), "go to a section by its letter, or to a bar", "jump"),
    Command("stand.bars", "1,2,3,4,5,6,7,8,9", with_key("bars"), "so many bars back; 2 c is two bars before C"),
    Command("stand.top", "home,0", do("top"), "top of the song"),
    Command("stand.ending", "end,e", do("ending"), "last ending"),
    Command(
        "stand.return",
        "z",
        do("return"),
        "back to where we played before the jump, and forth",
        confirm="back to the other song",
    ),
    Command("stand.cue", "c", do("cue"), "give the cue: leave the vamp when its round is through", "cue"),
    Command("stand.song", "full_stop", do("song", 1), "next song", "song", confirm="another song"),
    Command(
        "stand.song_back", "comma", do("song", -1), "top of the song, then the song before", confirm="another song"
    ),
    Command("stand.find", "slash,f", do("ask", "find"), "open a song by part of its title", confirm="another song"),
    Command("stand.key", "k", do("ask", "key"), "tonight's key, by name or half steps", "key", confirm="another key"),
    Command(
        "stand.tempo",
        "t",
        do("ask", "tempo"),
        "tonight's tempo: figure, nudge, or tap this key",
        "tempo",
        confirm="another tempo",
    ),
    Command(
        "stand.note", "n", do("ask", "note"), "write a note for this bar or this song", "note", confirm="write a note"
    ),
    Command(
        "stand.other",
        "o",
        do("ask", "other"),
        "other voicings of the coming chord, with their price",
        confirm="another voicing",
    ),
    Command("stand.count", "g", do("count"), "count in and go through the first chord softly", "count in"),
    Command("stand.along", "i", do("along"), "in time, from here or round the loop; again to stop", "in time"),
    Command("stand.climb", "plus,equals_sign", do("climb"), "loop or section on a tempo ladder; again to stop"),
    Command("stand.take", "f9", do("record"), "record what you play as a MIDI file; again to end"),
    Command("stand.hear", "p", do("hear"), "sound each chord as you step, or not"),
    Command("stand.louder", "f8", do("volume", 1), "turn the volume up, for what the stand sounds"),
    Command("stand.softer", "f7", do("volume", -1), "turn the volume down"),
    Command("stand.silence", "x", do("silence"), "silence: nothing sounds on"),
    Command(
        "stand.undo", "u", do("undo"), "undo a key, tempo, note, pin or bar; the place stays", "undo", confirm="undo"
    ),
    Command("stand.redo", "r", do("redo"), "do again what was undone", confirm="redo"),
    Command("stand.layout", "v", do("layout"), "layout: player, leader, split"),
    Command("stand.numbers", "number_sign", do("numbers"), "chords as numbers of the key, or by name"),
    Command("stand.ahead", "minus", do("ahead"), "the coming bars for the roadmap, or the roadmap again"),
    Command("stand.words", "semicolon,apostrophe", do("words"), "all words of this place, or the keyboard again"),
    Command("stand.theme", "d", do("theme"), "dark, light, without colour"),
    Command("stand.lock", "l", do("lock"), "lock the stand for the stage, or unlock it", confirm="unlock the stand"),
    Command(
        "stand.reload",
        "w",
        do("reload"),
        "take up files changed elsewhere, and keep your own",
        confirm="take up the changed files",
    ),
    Command("stand.set", "s", do("show", "set"), "the set: order, keys, tempos", "set", confirm="leave the stand"),
    Command("stand.chart", "b", do("show", "chart"), "the song in bars", "bars", confirm="leave the stand"),
    Command("stand.play", "tab", do("show", "song"), "how this song is played, and reach", confirm="leave the stand"),
    Command("stand.keys", "y", do("show", "keys"), "the twelve keys compared", confirm="leave the stand"),
    Command(
        "stand.shed", "a", do("show", "shed"), "the shed: the hardest shifts, practised", confirm="leave the stand"
    ),
    Command("stand.sound", "m", do("show", "sound"), "ports and sound", confirm="leave the stand"),
    Command("stand.help", "question_mark,h", do("show", "help"), "all keys", "help"),
    Command("stand.quit", "q", do("quit"), "quit; the place is kept", "quit", confirm="quit"),
)

_SET = (
    Command("set.down", "down", do("move", 1), "song below", "down"),
    Command("set.up", "up", do("move", -1), "song above"),
    Command("set.open", "enter,space", do("open"), "open this song on the stand", "open"),
    Command("set.new", "n", do("new"), "write a new song, and add it to the set", "new"),
    Command("set.add", "a", do("add"), "add a song of the folder, from a list", "add"),
    Command("set.drop", "delete,x", do("drop"), "drop the song from the set", "drop"),
    Command(
        "set.edit",
        "e",
        do("edit"),
        "write this song: title, key, roadmap, sections",
        "write",
    ),
    Command("set.key", "k", do("ask", "key"), "tonight's key", "key"),
    Command("set.tempo", "t", do("ask", "tempo"), "tonight's tempo", "tempo"),
    Command("set.later", "right,pagedown", do("carry", 1), "move the song later", "later"),
    Command("set.earlier", "left,pageup", do("carry", -1), "move the song earlier", "earlier"),
    Command("set.title", "i", do("title"), "the set's title"),
    Command("set.copy", "c", do("copy"), "copy the set into another file"),
    Command("set.play", "tab", do("play"), "open this song, and set how it is played"),
    Command("set.undo", "u", do("undo"), "undo a move, a drop, a key, a tempo", "undo"),
    Command("set.redo", "r", do("redo"), "do again what was undone"),
    Command("set.help", "question_mark,h", do("show", "help"), "all keys", "help"),
    Command("set.close", "s,q,escape", do("close"), "back to the stand", "stand"),
)

_CHART = (
    Command("chart.right", "right", do("move", 1), "next chord"),
    Command("chart.left", "left", do("move", -1), "chord before"),
    Command("chart.down", "down,pagedown", do("line", 1), "next bar", "bar"),
    Command("chart.up", "up,pageup", do("line", -1), "bar before"),
    Command("chart.hardest", "w", do("hardest"), "the next hardest shift", "hardest"),
    Command("chart.pin", "p", do("pin"), "pin the voicing as it stands, or unpin it", "pin"),
    Command("chart.other", "o", do("other"), "other voicings with their price; up and down choose", "others"),
    Command("chart.edit", "e", do("edit"), "edit the bar in the song's own file, read as you type", "edit"),
    Command("chart.insert", "i", do("insert"), "put bars in after this one, or before it", "insert"),
    Command("chart.delete", "x,delete", do("delete"), "take the bar out, or those from the loop's mark on"),
    Command("chart.copy", "c", do("copy"), "copy the bar, or those from the loop's mark on"),
    Command("chart.paste", "v", do("paste"), "put the copied bars in, read before they are written"),
    Command("chart.form", "f", do("show", "form"), "write the song: title, key, roadmap, sections", "write"),
    Command("chart.text", "t", do("text"), "edit the song's whole file as text"),
    Command("chart.loop", "l", do("loop"), "mark a loop's start, then its end; again to clear", "loop"),
    Command("chart.play", "tab", do("show", "song"), "how this song is played, and reach"),
    Command("chart.undo", "u", do("undo"), "undo a pin or a bar", "undo"),
    Command("chart.redo", "r", do("redo"), "do again what was undone"),
    Command("chart.open", "enter,space", do("open"), "go on from here on the stand", "from here"),
    Command("chart.help", "question_mark,h", do("show", "help"), "all keys", "help"),
    Command("chart.close", "b,q,escape", do("close"), "back to the stand", "stand"),
)

_KEYS = (
    Command("keys.down", "down", do("move", 1), "key below", "down"),
    Command("keys.up", "up", do("move", -1), "key above", "up"),
    Command("keys.take", "enter,space", do("take"), "take this key for tonight", "tonight"),
    Command("keys.keep", "tab,g", do("keep"), "take this key for good, in the song's own file", "for good"),
    Command("keys.singer", "s,right", do("singer"), "for the next singer of your player.toml", "singer"),
    Command("keys.help", "question_mark,h", do("show", "help"), "all keys", "help"),
    Command("keys.close", "y,q,escape", do("close"), "back to the stand", "stand"),
)

_SONG = (
    Command("song.down", "down", do("move", 1), "line below", "down"),
    Command("song.up", "up", do("move", -1), "line above", "up"),
    Command("song.more", "right", do("change", 1), "next value, for tonight", "tonight"),
    Command("song.less", "left", do("change", -1), "value before"),
    Command("song.take", "enter,space", do("take"), "next value; measure a reach; compare the keys", "take"),
    Command("song.keep", "g", do("keep"), "keep this value for good, in the song's own file", "for good"),
    Command("song.undo", "u", do("undo"), "undo what was decided last", "undo"),
    Command("song.redo", "r", do("redo"), "do again what was undone"),
    Command("song.help", "question_mark,h", do("show", "help"), "all keys", "help"),
    Command("song.close", "tab,q,escape", do("close"), "back", "back"),
)

_FORM = (
    Command("form.down", "down", do("move", 1), "line below", "down"),
    Command("form.up", "up", do("move", -1), "line above", "up"),
    Command("form.take", "enter,space", do("take"), "write this value anew; a section's bars as text", "write"),
    Command("form.more", "right", do("change", 1), "next word of feel or count"),
    Command("form.less", "left", do("change", -1), "word before"),
    Command("form.add", "a", do("section", "add"), "add a section after this one", "add"),
    Command("form.name", "n", do("section", "rename"), "another name for the section", "name"),
    Command("form.split", "s", do("section", "split"), "split the section before a bar", "split"),
    Command("form.copy", "c", do("section", "copy"), "copy the section", "copy"),
    Command("form.drop", "x,delete", do("section", "drop"), "drop the section", "drop"),
    Command("form.bars", "b", do("show", "chart"), "the song in bars", "bars"),
    Command("form.text", "t", do("text"), "edit the song's whole file as text", "text"),
    Command("form.undo", "u", do("undo"), "undo what was written last", "undo"),
    Command("form.redo", "r", do("redo"), "do again what was undone"),
    Command("form.help", "question_mark,h", do("show", "help"), "all keys", "help"),
    Command("form.close", "f,q,escape", do("close"), "back", "back"),
)

_SOUND = (
    Command("sound.down", "down", do("move", 1), "line below", "down"),
    Command("sound.up", "up", do("move", -1), "line above", "up"),
    Command("sound.more", "right", do("change", 1), "next value", "change"),
    Command("sound.less", "left", do("change", -1), "value before"),
    Command("sound.take", "enter,space", do("take"), "take this port or the next value; play the test chord", "take"),
    Command("sound.louder", "f8,plus,equals_sign", do("volume", 1), "turn the volume up", "louder"),
    Command("sound.softer", "f7,minus", do("volume", -1), "turn the volume down", "softer"),
    Command("sound.silence", "x", do("silence"), "silence everything on all channels", "silence"),
    Command("sound.help", "question_mark,h", do("show", "help"), "all keys", "help"),
    Command("sound.close", "m,q,escape", do("close"), "back to the stand", "stand"),
)

_SHED = (
    Command("shed.down", "down", do("move", 1), "easier shift", "down"),
    Command("shed.up", "up", do("move", -1), "harder shift"),
    Command("shed.ride", "space", do("ride"), "round the spot at the ladder's tempo; again to end", "round"),
    Command(
        "shed.clean", "right,pagedown,c", do("verdict", "clean"), "that was clean: keep the try, a notch up", "clean"
    ),
    Command(
        "shed.stopped", "left,pageup,x", do("verdict", "stopped"), "stopped: keep the try, a notch down", "stopped"
    ),
    Command("shed.take_back", "u,backspace", do("take_back"), "take back the last verdict: a slip of the finger"),
    Command("shed.faster", "plus,equals_sign", do("nudge", 1), "a notch faster without a try"),
    Command("shed.slower", "minus", do("nudge", -1), "a notch slower without a try"),
    Command("shed.tonight", "t", do("tonight"), "tonight's plan of interleaved spots; again to leave it", "tonight"),
    Command("shed.minutes", "1,2,3,4,5,6,7,8,9", with_key("minutes"), "tonight's plan of ten to ninety minutes"),
    Command("shed.next", "n", do("next"), "next spot of tonight's plan", "next"),
    Command("shed.narrow", "v", do("narrow"), "a narrower version for the hands, or the plan's again", "narrower"),
    Command("shed.keep", "k", do("keep"), "keep the narrower version for tonight"),
    Command("shed.hands", "b", do("hands"), "both hands, the left alone, the right alone"),
    Command("shed.guide", "g", do("guide"), "what a round sounds: first chord, rhythm, other hand"),
    Command("shed.hear", "p", do("hear"), "hear the chord the shift leads to"),
    Command("shed.open", "enter", do("open"), "open the spot on the stand, looped", "open"),
    Command("shed.help", "question_mark,h", do("show", "help"), "all keys", "help"),
    Command("shed.close", "a,q,escape", do("close"), "back to the stand", "stand"),
)

_HELP = (
    Command("help.down", "down,space,pagedown", do("move", 1), "further down", "down"),
    Command("help.up", "up,pageup", do("move", -1), "further up", "up"),
    Command("help.close", "question_mark,h,q,escape,enter", do("close"), "back", "back"),
)


SCREENS: dict[str, tuple[Command, ...]] = {
    "stand": _STAND, "set": _SET, "chart": _CHART, "keys": _KEYS, "song": _SONG, "form": _FORM, "sound": _SOUND,
    "shed": _SHED, "help": _HELP,
}  # fmt: skip

FOOT_SWITCHES: dict[str, dict[str, str]] = {
    "stand": {"next": "stand.forward", "back": "stand.back", "cue": "stand.cue"},
    "shed": {"next": "shed.clean", "back": "shed.stopped"},
}
"""Screen -> what a foot switch asks for -> the command."""

COMMANDS: dict[str, Command] = {command.id: command for screen in SCREENS.values() for command in screen}
