"""Songs written as TOML, and single changes to song and set files that leave everything else as it was.

Changes are made with tomlkit on the file's own text: comments, order and spacing survive.
"""

import re
from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from engine.errors import ChartError, Fault
from engine.song.model import Bar, Event, Pin, Section, Song
from engine.song.roadmap import write_roadmap
from engine.theory.meter import Meter
from engine.theory.pitch import NoteName, spelled

if TYPE_CHECKING:
    from tomlkit import TOMLDocument

BARS_A_LINE = 4


def write_song(song: Song) -> str:
    """Return a song file; reading it gives the same song (lines, columns, source and doubts aside)."""
    lines = [
        f"title  = {quoted(song.title)}",
        f"key    = {quoted(song.key)}",
        f'meter  = "{song.meter}"',
        f"tempo  = {song.tempo:g}" if song.tempo == float(f"{song.tempo:g}") else f"tempo  = {song.tempo!r}",
    ]
    lines += [f"feel   = {quoted(song.feel)}"] if song.feel != "straight" else []
    lines += [f"count  = {quoted(song.count)}"] if song.count != "one bar" else []
    if song.roadmap != tuple(section.name for section in song.sections):
        lines.append(f"roadmap = {_roadmap(song)}")
    lines += [f"note   = {quoted(song.note)}"] if song.note else []
    lines += _melody(song) + _voicing(song)
    for section in song.sections:
        lines += _section(section, song)
    for pin in song.pins:
        lines += ["", "[[pins]]", *(f"{name} = {value}" for name, value in pin_values(pin, song.key).items())]
    return "\n".join(lines) + "\n"


def quoted(text: str) -> str:
    """Return a TOML string of a text on one line."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    signs = {"\n": "\\n", "\t": "\\t", "\r": "\\r", "\b": "\\b", "\f": "\\f"}
    return (
        '"' + "".join(signs.get(sign) or (f"\\u{ord(sign):04x}" if _control(sign) else sign) for sign in escaped) + '"'
    )


def _control(sign: str) -> bool:
    return ord(sign) < 32 or ord(sign) == 127


def _roadmap(song: Song) -> str:
    """Return the roadmap in words, or as a list where a section's name would be misread in words."""
    names = tuple(section.name for section in song.sections)
    words = write_roadmap(song.roadmap)
    from engine.song.roadmap import read_roadmap

    if read_roadmap(words, names) == (song.roadmap, ()):
        return quoted(words)
    return "[" + ", ".join(quoted(name) for name in song.roadmap) + "]"


def _melody(song: Song) -> list[str]:
    if song.melody is None:
        return []
    low, high = (pitch(key, song.key) for key in song.melody)
    return ["", "[melody]", f'lowest = "{low}"', f'highest = "{high}"']


def _voicing(song: Song) -> list[str]:
    method = [f"method = {quoted(song.method)}"] if song.method != "auto" else []
    sound = [f"sound = {quoted(song.sound)}"] if song.sound != "piano" else []
    return ["", "[voicing]", *method, *sound] if method or sound else []


def pitch(key: int, tonic: str) -> str:
    """Name a key (MIDI number) as the music in `tonic` would: Ab3 in Eb, G#3 in E."""
    from engine.theory.key import read_key

    home = read_key(tonic) if tonic else None
    centre = (home.tonic.fifths - (3 if home.minor else 0) + 2) if home else 2
    # The twelve names round the key's own middle on the line of fifths.
    names = [NoteName(fifths) for fifths in range(centre - 5, centre + 7)]
    name = next(name for name in names if name.pc == key % 12)
    return spelled(key, name)


def _section(section: Section, song: Song) -> list[str]:
    name = section.name if re.fullmatch(r"[A-Za-z0-9_-]+", section.name) else quoted(section.name)
    lines = ["", f"[sections.{name}]"]
    for word in ("cue", "key", "until"):
        value = getattr(section, word)
        lines += [f"{word} = {quoted(value)}"] if value else []
    lines += [f"pickup = {_beats(section.pickup)}"] if section.pickup else []
    return [*lines, 'bars = """', *write_bars(section.bars, song.meter), '"""']


def _beats(beats: Fraction) -> str:
    if beats.denominator == 1:
        return str(beats)
    return f"{float(beats):g}" if Fraction(f"{float(beats):g}") == beats else f'"{beats}"'


def write_bars(bars: tuple[Bar, ...], meter: Meter) -> list[str]:
    """Return the bars in lines; `meter` is the song's, a bar in another says so."""
    texts = [_bar(bars, place, meter) for place in range(len(bars))]
    lines: list[str] = []
    for start in range(0, len(texts), BARS_A_LINE):
        line = "".join(texts[start : start + BARS_A_LINE])
        opening = "" if line.startswith("||:") or line.startswith("[") else "| "
        lines.append((opening + line).rstrip())
    return lines


def _bar(bars: tuple[Bar, ...], place: int, meter: Meter) -> str:
    bar = bars[place]
    before = bars[place - 1] if place else None
    after = bars[place + 1] if place + 1 < len(bars) else None
    start = "||: " if bar.repeat_start else ""
    if bar.ending and (before is None or before.ending != bar.ending or before.repeat_times):
        start += f"[{','.join(str(turn) for turn in bar.ending)}. "
    odd = f"({bar.meter}) " if bar.meter != meter else ""
    return start + odd + write_events(bar) + " " + _end(bar, after)


def _end(bar: Bar, after: Bar | None) -> str:
    if bar.repeat_times:
        times = f" x{bar.repeat_times}" if not bar.ending and bar.repeat_times != 2 else ""
        return f":||{times} "
    if bar.ending and (after is None or after.ending != bar.ending):
        return "|| "
    return "| "


def write_events(bar: Bar) -> str:
    """Return the chords of one bar with the beats they need."""
    length = sum((event.beats for event in bar.events), Fraction(0))
    shares = {event.beats for event in bar.events}
    count = len(bar.events)
    if len(shares) == 1 and (count == 1 or (length / count).denominator == 1 or count == length * 2):
        return " ".join(map(_word, bar.events))
    for unit in (Fraction(1), Fraction(1, 3)):
        if (unit == 1 or bar.meter.compound) and all((event.beats / unit).denominator == 1 for event in bar.events):
            return " ".join(_word(event) + " /" * int(event.beats / unit - 1) for event in bar.events)
    return " ".join(f"{_word(event)}({event.beats} beats)" for event in bar.events)


def _word(event: Event) -> str:
    return event.symbol + (f"({event.mark})" if event.mark else "")


def pin_values(pin: Pin, tonic: str = "") -> dict[str, str]:
    """Return the keys of a [[pins]] table and their values as TOML; `tonic` is the key that spells the notes."""
    values = {"section": quoted(pin.section), "bar": str(pin.bar), "beat": _beats(pin.beat)}
    for name, keys in (("left", pin.left), ("right", pin.right)):
        if keys is not None:
            values[name] = quoted(" ".join(pitch(key, tonic) for key in keys))
    if pin.left_fingers or pin.right_fingers:
        hands = (" ".join(map(str, fingers)) for fingers in (pin.left_fingers, pin.right_fingers))
        values["fingers"] = quoted(" / ".join(hands))
    return values


# Changes to a file's own text


def set_tonight(
    text: str, song_number: int, key: str | None = None, tempo: float | None = None, note: str | None = None
) -> str:
    """Return the set file with tonight's key, tempo or note of one song (from 1) changed; "" or 0 takes it out."""
    document = _document(text)
    song = _song(document, song_number)
    for name, value in (("key", key), ("tempo", tempo), ("note", note)):
        if value is not None:
            _put(song, name, int(value) if isinstance(value, float) and value.is_integer() else value)
    return _text(document, text)


def move_song(text: str, song_number: int, to: int) -> str:
    """Return the set file with one song moved to place `to` (both from 1)."""
    head, songs, tail = _blocks(text)
    _check_number(song_number, len(songs), text)
    _check_number(to, len(songs), text)
    songs.insert(to - 1, songs.pop(song_number - 1))
    return head + "".join(songs) + tail


def drop_song(text: str, song_number: int) -> str:
    """Return the set file without one song (from 1) and its lines."""
    head, songs, tail = _blocks(text)
    _check_number(song_number, len(songs), text)
    del songs[song_number - 1]
    return head + "".join(songs) + tail


def add_song(text: str, file: str, at: int | None = None) -> str:
    """Return the set file with a song more, at place `at` from 1 (None: at the end)."""
    head, songs, tail = _blocks(text)
    block = f"[[songs]]\nfile = {quoted(file)}\n"
    if not songs:
        return _ended(head) + "\n" + block + tail
    place = len(songs) if at is None else max(0, min(at - 1, len(songs)))
    if place == len(songs):
        songs[-1] = _ended(songs[-1])
    songs.insert(place, block + "\n" if place < len(songs) else "\n" + block)
    return head + "".join(songs) + tail


def add_pin(text: str, pin: Pin, song_number: int | None = None, tonic: str = "") -> str:
    """Return the song file with a pin more (one at the same place is replaced), or the set's for one of its songs.

    `tonic` is the key whose names the notes get.
    """
    import tomlkit

    document = _document(text)
    owner = document if song_number is None else _song(document, song_number)
    pins = owner.get("pins")
    if pins is None:
        pins = owner["pins"] = tomlkit.aot()
    table = tomlkit.parse("\n".join(f"{name} = {value}" for name, value in pin_values(pin, tonic).items()) + "\n")
    fresh = tomlkit.table()
    for name, value in table.items():
        fresh.add(name, value)
    for place, old in enumerate(pins):
        if _same_place(old, pin):
            pins[place] = fresh
            break
    else:
        pins.append(fresh)
    return _text(document, text)


def drop_pin(text: str, section: str, bar: int, beat: Fraction, song_number: int | None = None) -> str:
    """Return the file without the pins at one place."""
    document = _document(text)
    owner = document if song_number is None else _song(document, song_number)
    pins = owner.get("pins", [])
    wanted = Pin(section, bar, beat, None, None)
    for place in range(len(pins) - 1, -1, -1):
        if _same_place(pins[place], wanted):
            del pins[place]
    if "pins" in owner and not pins:
        del owner["pins"]
    return _text(document, text)


def set_value(text: str, dotted: str, value: object) -> str:
    """Return the file with one value changed: `dotted` is its keys, as in "voicing.method"; None takes it out."""
    import tomlkit

    document = _document(text)
    *tables, name = dotted.split(".")
    owner: Any = document
    for table in tables:
        if table not in owner:
            owner[table] = tomlkit.table()
        owner = owner[table]
    _put(owner, name, "" if value is None else value)
    return _text(document, text)


def replace_bar(text: str, section: str, bar: int, new: str) -> str:
    """Return the song file with the chords of one written bar changed; bar lines and everything else stay.

    `bar` counts as on the stand: from 1, a pickup bar is 0. `new` is what stands between the bar lines.
    """
    from engine.song.fields import read_table
    from engine.song.signs import Sign, signs

    table, sheet = read_table(text, "")
    plain = sheet.places.text
    owner = table["sections"][section]
    value = owner["bars"]
    spans: list[list[Sign]] = [[]]
    for sign in signs(value):
        if sign.kind in ("bar", "double", "open", "close", "ending", "times"):
            spans.append([])
        else:
            spans[-1].append(sign)
    written = [span for span in spans if span]
    place = bar if owner.get("pickup") else bar - 1
    _check_number(place + 1, len(written), text)
    offsets = sheet.places.strings["sections", section, "bars"]
    first, last = written[place][0], written[place][-1]
    ending = len(last.text) + (2 if last.kind in ("mark", "meter") else 8 if last.kind == "beats" else 0)
    end = _end_of(value, last, ending)
    changed = plain[: offsets[first.offset]] + new.strip() + plain[offsets[end] :]
    bom = "\ufeff" if text.startswith("\ufeff") else ""
    return bom + (changed.replace("\n", "\r\n") if "\r\n" in text else changed)


def _end_of(value: str, sign: Any, guess: int) -> int:
    """Return the offset after a sign; bracketed ones end at their bracket."""
    if sign.kind in ("mark", "meter", "beats", "bracket"):
        return value.index(")", sign.offset) + 1
    return int(sign.offset + guess)


def _document(text: str) -> "TOMLDocument":
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        return tomlkit.parse(text)
    except TOMLKitError as error:
        raise ChartError("", (Fault(1, 1, f"the file cannot be changed: {error}", "mend it first"),)) from None


def _text(document: "TOMLDocument", _before: str) -> str:
    import tomlkit

    return tomlkit.dumps(document)


def _song(document: "TOMLDocument", number: int) -> Any:
    songs: Any = document.get("songs", [])
    _check_number(number, len(songs), "")
    return songs[number - 1]


def _check_number(number: int, count: int, _text: str) -> None:
    if not 1 <= number <= count:
        raise ChartError("", (Fault(1, 1, f"there is no number {number}", f"the file has {count}"),))


def _put(owner: Any, name: str, value: object) -> None:
    if value == "" or (name == "tempo" and value == 0):
        if name in owner:
            del owner[name]
        return
    owner[name] = value


def _same_place(table: Any, pin: Pin) -> bool:
    try:
        beat = Fraction(str(table.get("beat", 1)))
    except ValueError:
        return False
    return (table.get("section"), table.get("bar", 1), beat) == (pin.section, pin.bar, pin.beat)


def _ended(text: str) -> str:
    return text if not text or text.endswith("\n") else text + "\n"


def _blocks(text: str) -> tuple[str, list[str], str]:
    """Split a set file into what stands before its songs, the songs one by one, and what follows them.

    Comments straight above a [[songs]] line go with that song; its own tables ([[songs.pins]]) stay in its block.
    """
    lines = text.splitlines(keepends=True)
    starts = [number for number, line in enumerate(lines) if re.match(r"\s*\[\[\s*songs\s*\]\]", line)]
    if not starts:
        return text, [], ""
    others = (
        number
        for number, line in enumerate(lines)
        if number > starts[-1] and re.match(r"\s*\[", line) and not re.match(r"\s*\[\[?\s*songs\b", line)
    )
    ends = next((_with_comments(lines, number) for number in others if _is_header(text, number)), len(lines))
    cuts = [*(_with_comments(lines, start) for start in starts), ends]
    songs = ["".join(lines[cut:after]) for cut, after in pairwise(cuts)]
    return "".join(lines[: cuts[0]]), songs, "".join(lines[ends:])


def _with_comments(lines: list[str], start: int) -> int:
    while start and lines[start - 1].lstrip().startswith("#"):
        start -= 1
    return start


def _is_header(text: str, line: int) -> bool:
    """True when the line opens a table, not an array inside a value."""
    from engine.song.fields import read_table

    _, sheet = read_table(text, "")
    return any(sheet.places.line_column(offset)[0] == line + 1 for path, offset in sheet.places.keys.items() if path)
