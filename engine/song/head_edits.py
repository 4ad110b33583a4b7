"""Title, key, meter, tempo, feel, count and roadmap of a song's file written anew, as a player types them."""

from typing import Any

from engine.song.fields import read_table
from engine.song.header import COUNTS, FEELS
from engine.song.plain_edits import edited, refuse
from engine.song.roadmap import read_roadmap
from engine.song.section_tempo import FASTEST, SLOWEST
from engine.theory.key import read_key

HEAD = ("title", "key", "meter", "tempo", "feel", "count", "roadmap")
"""The values of a song's head that are typed, in the order of a file."""

CHOICES: dict[str, tuple[str, ...]] = {"feel": FEELS, "count": COUNTS}
"""Values that are words of a list; a count may also be a number of beats."""


def head_value(text: str, name: str) -> str:
    """Return a value of the head as it would be typed, "" where the file does not say it.

    Raises:
        ChartError: not valid TOML.
    """
    value = read_table(text, "")[0].get(name, "")
    if isinstance(value, list):
        return ", ".join(map(str, value))
    return f"{value:g}" if isinstance(value, float) else " ".join(str(value).split())


def with_head(text: str, name: str, typed: str) -> str:
    """Return a song's file with a value of its head written anew; its comments stay. An empty one is taken out.

    Raises:
        ChartError: what is typed is no such value; sections, bars and chords are not looked at.
    """
    typed = " ".join(typed.split())
    if not typed and name in ("title", "key"):
        refuse(f"a song needs a {name}", "write one")

    def change(song: Any) -> None:
        if typed:
            song[name] = _value(name, typed, tuple(song.get("sections", {})))
        elif name in song:
            del song[name]

    return edited(text, change)


def _value(name: str, typed: str, sections: tuple[str, ...]) -> str | int | float:
    if name == "tempo":
        return _tempo(typed)
    if name == "key":
        try:
            return str(read_key(typed[:1].upper() + typed[1:]))
        except ValueError:
            refuse(f"{typed[:20]} is no key", "write it as Eb, F# or Cm")
    if name == "roadmap":
        _, slips = read_roadmap(typed, sections)
        if slips:
            refuse(slips[0].found, slips[0].hint)
    if name == "count" and typed.isdigit():
        return typed
    return typed.lower() if name in CHOICES else typed


def _tempo(typed: str) -> int | float:
    try:
        tempo = float(typed.replace(",", "."))
    except ValueError:
        tempo = 0.0
    if not SLOWEST <= tempo <= FASTEST:
        refuse(f"{typed[:20]} is no tempo", f"write a number from {SLOWEST:g} to {FASTEST:g}")
    return int(tempo) if tempo.is_integer() else tempo
