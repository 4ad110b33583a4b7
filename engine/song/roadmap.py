"""The roadmap: "Intro, Verse x2, Bridge, Tag x3" read into section names as played; x3 means three times in all."""

import re
from dataclasses import dataclass
from difflib import get_close_matches

_ENTRY = re.compile(r"(?P<name>.*?)(?:\s+[x×]\s?(?P<times>\d{1,4})|\s+(?P<late>\d{1,4})\s?[x×])?", re.IGNORECASE)
MOST_TIMES = 99
"""Times in a row beyond which it is a slip of the pen (own choice)."""
LONGEST = 300
"""Characters of an entry that are looked at: no section has a longer name (own choice)."""


@dataclass(frozen=True, slots=True)
class Slip:
    """A roadmap entry that cannot be played: its offset in the text, what was found, how to mend it."""

    offset: int
    found: str
    hint: str


def read_roadmap(text: str, names: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[Slip, ...]]:
    """Return the section names as played, passes written out, and the entries that name nothing."""
    played: list[str] = []
    slips: list[Slip] = []
    for found in re.finditer(r"[^,\n]+", text):
        entry = found[0].strip()
        offset = found.start() + len(found[0]) - len(found[0].lstrip())
        if entry:
            answer = read_entry(entry, offset, names)
            if isinstance(answer, Slip):
                slips.append(answer)
            else:
                played.extend(answer)
    return tuple(played), tuple(slips)


def read_entry(entry: str, offset: int, names: tuple[str, ...]) -> tuple[str, ...] | Slip:
    """Return what one entry plays: a name as it stands, or a name and its times."""
    if whole := _named(entry, names):
        return (whole,)
    found = _ENTRY.fullmatch(entry[:LONGEST])
    wanted = found["name"] if found else entry
    times = int((found["times"] or found["late"] or 1) if found else 1)
    name = _named(wanted, names)
    if name is None:
        near = get_close_matches(wanted.lower(), [known.lower() for known in names], n=1, cutoff=0.5)
        known = [known for known in names if near and known.lower() == near[0]] or list(names)
        hint = f"did you mean {known[0]}?" if near else f"the sections are {', '.join(known)}"
        return Slip(offset, f"there is no section {wanted}", hint)
    if not 1 <= times <= MOST_TIMES:
        return Slip(offset, f"{entry} plays {times} times", f"x1 to x{MOST_TIMES}: how often in all")
    return (name,) * times


def _named(wanted: str, names: tuple[str, ...]) -> str | None:
    """Return the section of that name; capitals do not matter where only one fits."""
    if wanted in names:
        return wanted
    alike = [name for name in names if name.lower() == wanted.lower()]
    return alike[0] if len(alike) == 1 else None


def named_in(text: str) -> tuple[str, ...]:
    """Return the sections that a roadmap names, each once, in order: what a song needs to be played."""
    names: list[str] = []
    for entry in filter(None, (part.strip() for part in re.split(r"[,\n]", text))):
        found = _ENTRY.fullmatch(entry[:LONGEST])
        name = found["name"].strip() if found else entry
        if name and name.lower() not in [known.lower() for known in names]:
            names.append(name)
    return tuple(names)


def write_roadmap(played: tuple[str, ...]) -> str:
    """Return the roadmap in words, neighbours counted: ("Verse", "Verse", "Tag") is "Verse x2, Tag"."""
    counted: list[tuple[str, int]] = []
    for name in played:
        if counted and counted[-1][0] == name and counted[-1][1] < MOST_TIMES:
            counted[-1] = (name, counted[-1][1] + 1)
        else:
            counted.append((name, 1))
    return ", ".join(name if times == 1 else f"{name} x{times}" for name, times in counted)
