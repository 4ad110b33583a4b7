"""What the page of a song's form does to its file: pure functions of the text."""

import re

from engine.song import section_edits as sections
from engine.song.bar_places import Moved
from engine.song.fields import read_table
from engine.song.head_edits import with_head
from engine.song.plain_edits import refuse
from engine.song.roadmap import Slip, named_in, read_entry
from tui.screens.changing_files import Change

_SPLIT = re.compile(r"\s*(\d{1,4})\s+(\S.*)")


def section_change(what: str, section: str, typed: str) -> tuple[Change, str, Moved | None]:
    """Return (the change of a song's text, what it is in words, where the bars go) for one of its sections."""
    name = " ".join(typed.split())
    if what == "add":
        return lambda text: sections.add_section(text, section, typed), f"add: {name}", None
    if what == "copy":
        return lambda text: sections.copy_section(text, section, typed), f"copy: {name}", None
    if what == "rename":
        moved = sections.renamed_places(section, name)
        return lambda text: sections.rename_section(text, section, typed), f"name: {name}", moved
    if what == "drop":
        return lambda text: sections.drop_section(text, section), f"drop {section}", sections.dropped_places(section)
    found = _SPLIT.fullmatch(typed)
    if not found:
        return lambda text: refuse("the bar or the name is missing", "write both, as in 5 Answer"), "", None
    bar, second = int(found[1]), " ".join(found[2].split())
    moved = sections.split_places(section, bar, second)
    return lambda text: sections.split_section(text, section, bar, second), f"split: {second}", moved


def roadmap_change(text: str, typed: str) -> str:
    """Return a song's text with another roadmap; a name that is like none of its sections becomes a new section.

    Raises:
        ChartError: a name that is nearly that of a section, or none.
    """
    names = tuple(read_table(text, "")[0].get("sections", {}))
    new = [name for name in named_in(typed) if _is_new(name, names)]
    for name in new:
        text = sections.add_section(text, names[-1], name)
        names = (*names, name)
    return with_head(text, "roadmap", typed)


def _is_new(name: str, names: tuple[str, ...]) -> bool:
    answer = read_entry(name, 0, names)
    return isinstance(answer, Slip) and not answer.hint.startswith("did you mean")
