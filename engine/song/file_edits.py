"""Single changes to song and set files that leave everything else as it was: comments, order, spacing.

Values change through tomlkit, songs of a set as pieces of the file's own text.
"""

import json
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import Any

from engine.song.header import VOICING
from engine.song.model import Pin
from engine.song.parts import AS_SONG
from engine.song.plain_edits import document, edited, no_section, refuse
from engine.song.set_text import Pieces, ended, pieces
from engine.song.writing import pin_values, quoted


def set_tonight(
    text: str,
    song_number: int,
    key: str | None = None,
    tempo: float | None = None,
    note: str | None = None,
    manner: Mapping[str, str] | None = None,
) -> str:
    """Return the set file with tonight's key, tempo or note of one song (from 1) changed; "" or 0 takes it out.

    `manner` are values of `engine.song.model.MANNER` by name: how it is played tonight.
    """

    def change(song: Any) -> None:
        for name, value in (("key", key), ("tempo", tempo), ("note", note)):
            if value is not None:
                _put(song, name, int(value) if isinstance(value, float) and value.is_integer() else value)
        _put_manner(song, manner or {})

    return _with_song(text, song_number, change)


def set_manner(text: str, manner: Mapping[str, str]) -> str:
    """Return a song's own file with other values of `engine.song.model.MANNER`: how it is played for good.

    Raises:
        ChartError: not valid TOML.
    """
    return edited(text, lambda song: _put_manner(song, manner))


def set_part(text: str, section: str, values: Mapping[str, str]) -> str:
    """Return a song's own file with how one section is played changed for good; "" is as the song is.

    Raises:
        ChartError: not valid TOML, or no such section.
    """
    return edited(text, lambda song: _put_part(song.get("sections", {}).get(section) or no_section(section), values))


def _put_part(part: Any, values: Mapping[str, str]) -> None:
    for name, value in values.items():
        if name in part or value == "":
            _put(part, name, _truth(name, value))
        else:
            # Before the bars: what stands after a long text is overlooked.
            first = [key for key in ("bars", "tune") if key in part]
            kept = {key: part.pop(key) for key in first}
            part[name] = _truth(name, value)
            for key, old in kept.items():
                part[key] = old


def _truth(name: str, value: str) -> str | bool:
    """Return a value as TOML has it: what is said of the bass player is true or false."""
    return value if name != "bass" or value not in ("yes", "no") else value == "yes"


def set_band(text: str, band: Mapping[str, bool | str | Sequence[str]]) -> str:
    """Return the set file with other values of its own (`bass`, `guitar`, `horns`, `title`), new ones after the others.

    Raises:
        ChartError: not valid TOML.
    """
    blocks = pieces(text)
    own = blocks.head.rstrip("\n")
    values = document(ended(own))
    for name, value in band.items():
        values[name] = value if isinstance(value, bool | str) else list(value)
    blocks.head = values.as_string() + blocks.head[len(own) + 1 :]
    return blocks.text()


def _put_manner(song: Any, manner: Mapping[str, str]) -> None:
    """Put values into a song, or into its place in a set: those of its voicing where that stands."""
    import tomlkit

    for name, value in manner.items():
        if name == "parts":
            _put_parts(song, value)
        elif name not in VOICING:
            _put(song, name, _truth(name, value))
        elif isinstance(song.get("voicing"), dict):
            song["voicing"][name] = value
        elif name == "method" and "voicing" in song:
            song["voicing"] = value
        else:
            # A voicing in one word is its method.
            voicing = tomlkit.inline_table()
            voicing.update({"method": str(song["voicing"])} if "voicing" in song else {})
            voicing[name] = value
            song["voicing"] = voicing


def _put_parts(song: Any, parts: str) -> None:
    """Put what single sections are played like tonight (as `Song.parts`) into a song's place in a set."""
    import tomlkit

    tonight = json.loads(parts) if parts else {}
    if not tonight:
        _put(song, "sections", "")
        return
    table = tomlkit.inline_table()
    for name, values in tonight.items():
        said = tomlkit.inline_table()
        said.update({key: _truth(key, value) if value else AS_SONG for key, value in values.items()})
        table[name] = said
    song["sections"] = table


def move_song(text: str, song_number: int, to: int) -> str:
    """Return the set file with one song moved to place `to` (both from 1); blank lines stay where they are."""

    def change(songs: list[Any]) -> None:
        _check_number(song_number, len(songs))
        _check_number(to, len(songs))
        songs.insert(to - 1, songs.pop(song_number - 1))

    blocks = pieces(text)
    if blocks.listed:
        return _with_list(blocks, change)
    change(blocks.songs)
    return blocks.text()


def drop_song(text: str, song_number: int) -> str:
    """Return the set file without one song (from 1) and its lines."""

    def change(songs: list[Any]) -> None:
        _check_number(song_number, len(songs))
        del songs[song_number - 1]

    blocks = pieces(text)
    if blocks.listed:
        return _with_list(blocks, change)
    change(blocks.songs)
    del blocks.gaps[song_number - 1]
    return blocks.text()


def add_song(text: str, file: str, at: int | None = None) -> str:
    """Return the set file with a song more, at place `at` from 1 (None: at the end)."""
    blocks = pieces(text)
    if blocks.listed:
        return _with_list(blocks, lambda songs: songs.insert(len(songs) if at is None else at - 1, _listed(file)))
    count = len(blocks.songs)
    place = count if at is None else max(0, min(at - 1, count))
    if not count:
        blocks.head = ended(blocks.head) + "\n" if blocks.head.strip() else blocks.head
    elif place == count and not blocks.gaps[-1]:
        blocks.songs[-1] = ended(blocks.songs[-1])
        blocks.gaps[-1] = "\n"
    blocks.songs.insert(place, f"[[songs]]\nfile = {quoted(file)}\n")
    blocks.gaps.insert(place, "" if place == count and not blocks.tail else "\n")
    return blocks.text()


def with_files(text: str, named: Callable[[str], str]) -> str:
    """Return a set file's text with each song's file named anew, for a copy in another folder.

    Raises:
        ChartError: not valid TOML.
    """
    values = document(text)
    for song in values.get("songs", []):
        if isinstance(song.get("file"), str):
            _put(song, "file", named(str(song["file"])))
    return values.as_string()


def set_pins(text: str, song_number: int, new: Sequence[Pin], gone: Sequence[Pin], tonic: str = "") -> str:
    """Return the set file with pins of one song (from 1) put in or replaced, and those at other places taken out.

    `tonic` is the key whose names the notes get.
    """

    def change(song: Any) -> None:
        for pin in new:
            _put_pin(song, pin, tonic)
        for pin in gone:
            _drop_pins(song, pin)

    return _with_song(text, song_number, change)


def _put_pin(song: Any, pin: Pin, tonic: str) -> None:
    """Put a pin into a song's table, in brackets where that or its other pins are."""
    import tomlkit

    pins = song.get("pins")
    listed = isinstance(song, tomlkit.items.InlineTable) if pins is None else isinstance(pins, tomlkit.items.Array)
    if pins is None:
        song["pins"] = tomlkit.array() if listed else tomlkit.aot()
        pins = song["pins"]
    values = "\n".join(f"{name} = {value}" for name, value in pin_values(pin, tonic).items())
    fresh: Any = tomlkit.inline_table() if listed else tomlkit.table()
    for name, value in tomlkit.parse(f"{values}\n").items():
        fresh.add(name, value)
    place = next((place for place, old in enumerate(pins) if _same_place(old, pin)), None)
    if place is None:
        pins.append(fresh)
    else:
        pins[place] = fresh


def _drop_pins(song: Any, wanted: Pin) -> None:
    pins = song.get("pins", [])
    for place in range(len(pins) - 1, -1, -1):
        if _same_place(pins[place], wanted):
            del pins[place]
    if "pins" in song and not pins:
        del song["pins"]


def _with_song(text: str, number: int, change: Callable[[Any], None]) -> str:
    """Return a set's file changed in one song (from 1); what stands above the next is left alone."""

    def numbered(songs: Any) -> None:
        _check_number(number, len(songs))
        change(songs[number - 1])

    blocks = pieces(text)
    if blocks.listed:
        return _with_list(blocks, numbered)
    _check_number(number, len(blocks.songs))
    values = document(ended(blocks.songs[number - 1]))
    change(values["songs"][0])
    blocks.songs[number - 1] = values.as_string()
    return blocks.text()


def _with_list(blocks: Pieces, change: Callable[[Any], None]) -> str:
    """Return a set's file with its list of songs in brackets changed."""

    values = document(blocks.head)
    change(values["songs"])
    blocks.head = values.as_string()
    return blocks.text()


def _listed(file: str) -> Any:
    import tomlkit

    return tomlkit.parse(f"songs = [{{ file = {quoted(file)} }}]")["songs"][0]


def _check_number(number: int, count: int) -> None:
    if not 1 <= number <= count:
        refuse(f"there is no number {number}", f"the file has {count}")


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
    return (table.get("section"), table.get("bar", 1), beat) == pin.place
