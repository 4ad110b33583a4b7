"""Sections of a song's file added, renamed, copied, split, dropped; roadmap, pins and the note's lines follow."""

import re
from dataclasses import dataclass, replace

from engine.song.bar_edits import delete_bars
from engine.song.bar_places import Moved, with_places
from engine.song.fields import LONGEST_NAME, read_table
from engine.song.model import Bar, Event
from engine.song.new_song import section_text
from engine.song.plain_edits import like, no_section, patched, refuse
from engine.song.reader import read_song
from engine.song.roadmap_edits import Change, with_entries
from engine.song.writing import bare

_HEADER = re.compile(
    r"""\[[ \t]*sections[ \t]*\.[ \t]*("(?:[^"\\\n]|\\.)*"|'[^'\n]*'|[A-Za-z0-9_-]+)[ \t]*\]""",
)


@dataclass(frozen=True, slots=True)
class Block:
    """A section's lines in its file: where they begin (with the comments right above), end, and where its name is."""

    start: int
    end: int
    name: tuple[int, int]


def section_block(text: str, name: str) -> tuple[str, Block]:
    """Return a file's plain text, and the lines of a section in it.

    Raises:
        ChartError: there is no such section, or it does not stand under a heading of its own.
    """
    table, sheet = read_table(text, "")
    plain = sheet.places.text
    if name not in table.get("sections", {}):
        no_section(name)
    header = _HEADER.match(plain, sheet.places.keys["sections", name])
    if header is None:
        refuse(f"{name} does not stand under a heading [sections.{bare(name)}]", "edit it as text")
    heads = sorted(offset for offset in {*sheet.places.keys.values()} if plain[offset] == "[")
    after = [_above(plain, offset) for offset in heads if offset > header.start()]
    return plain, Block(_above(plain, header.start()), after[0] if after else len(plain), header.span(1))


def _above(text: str, offset: int) -> int:
    """Return where the comments begin that stand right above a line."""
    start = text.rfind("\n", 0, offset) + 1
    while start > 0:
        before = text.rfind("\n", 0, start - 1) + 1
        if not text[before:start].lstrip().startswith("#"):
            break
        start = before
    return start


def add_section(text: str, after: str, name: str) -> str:
    """Return the file with a new section after another one, in the roadmap too; it stands on the key's own chord.

    Raises:
        ChartError: there is such a section already, or it has no name.
    """
    song = read_song(text, "")
    name = _new_name(text, name)
    chord = "1" if read_table(text, "")[0].get("numbers") is True else song.key
    plain, block = section_block(text, after)
    return with_entries(_with_block(text, plain, block.end, section_text(name, chord)), _after(after, name))


def copy_section(text: str, section: str, name: str) -> str:
    """Return the file with a copy of a section after it, in the roadmap too; its pins stay with the first.

    Raises:
        ChartError: there is a section of that name already.
    """
    name = _new_name(text, name)
    plain, block = section_block(text, section)
    return with_entries(_with_block(text, plain, block.end, _copy(plain, block, name)), _after(section, name))


def rename_section(text: str, section: str, name: str) -> str:
    """Return the file with a section under another name, in the roadmap, the pins and the note too.

    Raises:
        ChartError: there is a section of that name already.
    """
    if name.strip() == section:
        return text
    name = _new_name(text, name, section)
    plain, block = section_block(text, section)
    # The roadmap first: its entries are read by the names there are.
    changed = with_entries(text, lambda entry, _: ((name, entry[1]),) if entry[0] == section else (entry,))
    plain, block = section_block(changed, section)
    renamed = like(text, patched(plain, [(*block.name, bare(name))]))
    return with_places(renamed, renamed_places(section, name))


def renamed_places(section: str, name: str) -> Moved:
    """Return where the bars of a section are once it has another name."""
    return lambda part, bar: (name if part == section else part, bar)


def drop_section(text: str, section: str) -> str:
    """Return the file without a section, its pins, its lines of the note and its entries in the roadmap.

    Raises:
        ChartError: it is the only one that is played.
    """
    if not [name for name in read_song(text, "").roadmap if name != section]:
        refuse(f"{section} is all that is played", "a song needs a section")
    changed = with_entries(text, lambda entry, _: () if entry[0] == section else (entry,))
    plain, block = section_block(changed, section)
    rest = plain[: block.start] + plain[block.end :]
    return with_places(like(text, rest), dropped_places(section))


def dropped_places(section: str) -> Moved:
    """Return where the bars are once a section is gone."""
    return lambda part, bar: None if part == section else (part, bar)


def split_section(text: str, section: str, bar: int, name: str) -> str:
    """Return the file with the bars from `bar` on in a section of their own, played right after the first part.

    Raises:
        ChartError: a repeat or a held note of the tune goes over that bar, or there is no such bar.
    """
    name = _new_name(text, name)
    old = next(part for part in read_song(text, "").sections if part.name == section)
    first, last = (0, len(old.bars) - 1) if old.pickup else (1, len(old.bars))
    if not max(first, 1) < bar + (old.pickup > 0) <= last + (old.pickup > 0):
        refuse(f"{section} cannot be split before bar {bar}", f"choose a bar from {first + 1} to {last}")
    changed = with_entries(text, lambda entry, _: _both(entry, section, name))
    plain, block = section_block(changed, section)
    changed = _with_block(changed, plain, block.end, _copy(plain, block, name))
    changed = delete_bars(changed, name, first, bar - 1, ("pickup", "cue"))
    # Pins and notes first: they go over to the new section, and not with the bars that are taken out here.
    changed = with_places(changed, split_places(section, bar, name))
    changed = delete_bars(changed, section, bar, last, ("until",))
    parts = {part.name: part for part in read_song(changed, "").sections}
    bars = (*parts[section].bars, *parts[name].bars)
    if [_told(one) for one in bars] != [_told(one) for one in old.bars]:
        refuse(f"a repeat goes over bar {bar} of {section}", "split it elsewhere, or edit it as text")
    sounds = [note.length for note in (*parts[section].tune, *parts[name].tune)]
    if sum(sounds) != sum(note.length for note in old.tune):
        refuse(f"the tune holds a note over bar {bar} of {section}", "split it elsewhere, or edit it as text")
    return changed


def split_places(section: str, bar: int, name: str) -> Moved:
    """Return where the bars of a section are once those from `bar` on have a section of their own."""
    return lambda part, at: (name, at - bar + 1) if part == section and at >= bar else (part, at)


def _both(entry: tuple[str, int], section: str, name: str) -> tuple[tuple[str, int], ...]:
    return ((section, 1), (name, 1)) * entry[1] if entry[0] == section else (entry,)


def _after(section: str, name: str) -> Change:
    return lambda entry, last: (entry, (name, 1)) if last and entry[0] == section else (entry,)


def _told(bar: Bar) -> Bar:
    """Return a bar without the places in its file."""
    events: tuple[Event, ...] = tuple(replace(event, line=0, column=0) for event in bar.events)
    return replace(bar, events=events, line=0)


def _new_name(text: str, typed: str, but: str = "") -> str:
    name = " ".join(typed.split())
    known = [part for part in read_table(text, "")[0].get("sections", {}) if part != but]
    if not name:
        refuse("a section needs a name", "write one, as in Bridge")
    if "," in name or "|" in name or not name.isprintable() or len(name) > LONGEST_NAME:
        refuse(f"{name[:20]} is no name of a section", "write a word or two, without commas and bar lines")
    if name.lower() in [part.lower() for part in known]:
        refuse(f"there is a section {name} already", "choose another name")
    if re.search(r"(?i)\s[x×]\s?\d+$|\s\d+\s?[x×]$", name):
        refuse(f"{name} would be read as so many times", "write the times into the roadmap")
    return name


def _copy(plain: str, block: Block, name: str) -> str:
    return plain[block.start : block.name[0]] + bare(name) + plain[block.name[1] : block.end].rstrip("\n") + "\n"


def _with_block(text: str, plain: str, place: int, block: str) -> str:
    """Return the file with a section's lines put in, a blank line round them."""
    before, after = plain[:place], plain[place:]
    gap = "" if before.endswith("\n\n") else "\n" if before.endswith("\n") else "\n\n"
    return like(text, before + gap + block + ("\n" if after else "") + after)
