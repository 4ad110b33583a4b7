"""What can be done with a key on each screen: a name, the screen's action, and words for the help."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Deed:
    """Something a key does on a screen: its dotted name, the screen's action, and words for the help."""

    name: str
    action: str
    words: str
    short: str = ""
    """One word for the key line, "" to leave it to the help."""


STAND: tuple[Deed, ...] = (
    Deed("stand.forward", "forward", "next chord; at the end the next song", "next"),
    Deed("stand.back", "back", "chord before", "back"),
    Deed("stand.section", "section(1)", "next section"),
    Deed("stand.section_back", "section(-1)", "section before"),
    Deed("stand.jump", "ask('jump')", "go to a section by its letter, or to a bar", "jump"),
    Deed("stand.bars", "bars", "so many bars back; 2 c is two bars before C"),
    Deed("stand.top", "top", "top of the song"),
    Deed("stand.ending", "ending", "last ending"),
    Deed("stand.return", "return", "back to where we played before the jump, and forth"),
    Deed("stand.cue", "cue", "give the cue: leave the vamp when its round is through", "cue"),
    Deed("stand.song", "song(1)", "next song", "song"),
    Deed("stand.song_back", "song(-1)", "top of the song, then the song before"),
    Deed("stand.find", "ask('find')", "open a song by part of its title"),
    Deed("stand.key", "ask('key')", "tonight's key, by name or half steps", "key"),
    Deed("stand.tempo", "ask('tempo')", "tonight's tempo: figure, nudge, or tap this key", "tempo"),
    Deed("stand.note", "ask('note')", "write a note for this bar or this song", "note"),
    Deed("stand.other", "ask('other')", "other voicings of the coming chord, with their price"),
    Deed("stand.count", "count", "count in and go through the first chord softly", "count in"),
    Deed(
        "stand.along",
        "along",
        "in time, from here or round the loop; again to stop",
        "in time",
    ),
    Deed("stand.climb", "climb", "loop or section on a tempo ladder; again to stop"),
    Deed("stand.hear", "hear", "sound each chord as you step, or not"),
    Deed("stand.silence", "silence", "silence: nothing sounds on"),
    Deed("stand.undo", "undo", "undo a key, tempo, note, pin or bar; the place stays", "undo"),
    Deed("stand.redo", "redo", "do again what was undone"),
    Deed("stand.layout", "layout", "layout: player, leader, split"),
    Deed("stand.numbers", "numbers", "chords as numbers of the key, or by name"),
    Deed("stand.theme", "theme", "dark, light, without colour"),
    Deed("stand.lock", "lock", "lock the stand for the stage, or unlock it"),
    Deed("stand.reload", "reload", "take up files changed elsewhere, and keep your own"),
    Deed("stand.set", "show('set')", "the set: order, keys, tempos", "set"),
    Deed("stand.chart", "show('chart')", "the song in bars", "bars"),
    Deed("stand.keys", "show('keys')", "the twelve keys compared"),
    Deed("stand.shed", "show('shed')", "the shed: the hardest shifts, practised"),
    Deed("stand.sound", "show('sound')", "ports and sound"),
    Deed("stand.help", "show('help')", "all keys", "help"),
    Deed("stand.quit", "quit", "quit; the place is kept", "quit"),
)

SET: tuple[Deed, ...] = (
    Deed("set.down", "move(1)", "song below", "down"),
    Deed("set.up", "move(-1)", "song above", "up"),
    Deed("set.open", "open", "open this song on the stand", "open"),
    Deed("set.later", "carry(1)", "move the song later", "later"),
    Deed("set.earlier", "carry(-1)", "move the song earlier", "earlier"),
    Deed("set.key", "ask('key')", "tonight's key", "key"),
    Deed("set.tempo", "ask('tempo')", "tonight's tempo", "tempo"),
    Deed("set.add", "ask('add')", "add a song file", "add"),
    Deed("set.drop", "drop", "drop the song from the set", "drop"),
    Deed("set.undo", "undo", "undo a move, a drop, a key, a tempo", "undo"),
    Deed("set.redo", "redo", "do again what was undone"),
    Deed("set.help", "show('help')", "all keys", "help"),
    Deed("set.close", "close", "back to the stand", "stand"),
)

CHART: tuple[Deed, ...] = (
    Deed("chart.right", "move(1)", "next chord"),
    Deed("chart.left", "move(-1)", "chord before"),
    Deed("chart.down", "line(1)", "next bar", "bar"),
    Deed("chart.up", "line(-1)", "bar before"),
    Deed("chart.hardest", "hardest", "the next hardest shift", "hardest"),
    Deed("chart.pin", "pin", "pin the voicing as it stands, or unpin it", "pin"),
    Deed("chart.other", "other", "other voicings with their price; up and down choose", "others"),
    Deed("chart.edit", "edit", "edit the bar in the song's own file, read as you type", "edit"),
    Deed("chart.loop", "loop", "mark a loop's start, then its end; again to clear", "loop"),
    Deed("chart.undo", "undo", "undo a pin or a bar", "undo"),
    Deed("chart.redo", "redo", "do again what was undone"),
    Deed("chart.open", "open", "go on from here on the stand", "from here"),
    Deed("chart.help", "show('help')", "all keys", "help"),
    Deed("chart.close", "close", "back to the stand", "stand"),
)

KEYS: tuple[Deed, ...] = (
    Deed("keys.down", "move(1)", "key below", "down"),
    Deed("keys.up", "move(-1)", "key above", "up"),
    Deed("keys.take", "take", "take this key for tonight", "tonight"),
    Deed("keys.keep", "keep", "take this key for good, in the song's own file", "for good"),
    Deed("keys.singer", "singer", "for the next singer of your player.toml", "singer"),
    Deed("keys.help", "show('help')", "all keys", "help"),
    Deed("keys.close", "close", "back to the stand", "stand"),
)

SOUND: tuple[Deed, ...] = (
    Deed("sound.down", "move(1)", "line below", "down"),
    Deed("sound.up", "move(-1)", "line above", "up"),
    Deed("sound.more", "change(1)", "next value", "change"),
    Deed("sound.less", "change(-1)", "value before"),
    Deed("sound.take", "take", "take this port or the next value; play the test chord", "take"),
    Deed("sound.silence", "silence", "silence everything on all channels", "silence"),
    Deed("sound.help", "show('help')", "all keys", "help"),
    Deed("sound.close", "close", "back to the stand", "stand"),
)

SHED: tuple[Deed, ...] = (
    Deed("shed.down", "move(1)", "easier shift", "down"),
    Deed("shed.up", "move(-1)", "harder shift"),
    Deed("shed.ride", "ride", "round the spot at the ladder's tempo; again to end", "round"),
    Deed("shed.clean", "verdict('clean')", "that was clean: keep the try, a notch up", "clean"),
    Deed("shed.stopped", "verdict('stopped')", "stopped: keep the try, a notch down", "stopped"),
    Deed("shed.take_back", "take_back", "take back the last verdict: a slip of the finger"),
    Deed("shed.faster", "nudge(1)", "a notch faster without a try"),
    Deed("shed.slower", "nudge(-1)", "a notch slower without a try"),
    Deed("shed.tonight", "tonight", "tonight's plan of interleaved spots; again to leave it", "tonight"),
    Deed("shed.minutes", "minutes(30)", "tonight's plan of ten to ninety minutes"),
    Deed("shed.next", "next", "next spot of tonight's plan", "next"),
    Deed("shed.narrow", "narrow", "a narrower version for the hands, or the plan's again", "narrower"),
    Deed("shed.keep", "keep", "keep the narrower version for tonight"),
    Deed("shed.hear", "hear", "hear the chord the shift leads to"),
    Deed("shed.open", "open", "open the spot on the stand, looped", "open"),
    Deed("shed.help", "show('help')", "all keys", "help"),
    Deed("shed.close", "close", "back to the stand", "stand"),
)

HELP: tuple[Deed, ...] = (
    Deed("help.down", "move(1)", "further down", "down"),
    Deed("help.up", "move(-1)", "further up", "up"),
    Deed("help.close", "close", "back", "back"),
)

SCREENS: dict[str, tuple[Deed, ...]] = {
    "stand": STAND, "set": SET, "chart": CHART, "keys": KEYS, "sound": SOUND, "shed": SHED, "help": HELP,
}  # fmt: skip
