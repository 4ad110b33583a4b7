"""Measures and their playing order cut into named sections and a roadmap that plays them.

A cut falls at rehearsal marks, at changes of key or tempo and wherever the playing order leaves the page's order,
except inside a repeat that is played whole every time: that one keeps its signs.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from engine.formats.musicxml_in.measure import Measure
from engine.formats.musicxml_in.playing_order import Frame

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
SHORTEST = 4
"""Measures that two double bar lines must hold between them to make a section (own choice)."""


@dataclass(frozen=True, slots=True)
class Block:
    """A section to be: measures `start` to before `end`, the repeats that keep their signs, its rehearsal `mark`;
    `tail` are measures from elsewhere that are written at its end."""

    start: int
    end: int
    name: str
    frames: tuple[Frame, ...]
    mark: str = ""
    tail: tuple[int, ...] = ()

    @property
    def measures(self) -> tuple[int, ...]:
        """The measures as they are written in the section: its own, then those that follow it only here."""
        return (*range(self.start, self.end), *self.tail)

    def played(self) -> list[int]:
        """Return the measures of one pass through the section, repeats taken."""
        order: list[int] = []
        at = self.start
        starts = {frame.start: frame for frame in self.frames}
        while at < self.end:
            frame = starts.get(at)
            order += frame.played() if frame else [at]
            at = frame.end if frame else at + 1
        return order


def cut(measures: Sequence[Measure], frames: list[Frame], order: list[int]) -> tuple[list[Block], list[str]]:
    """Return the sections in the order of the page and the roadmap of their names."""
    kept = [frame for frame in frames if frame.plain]
    while True:
        cuts = _marks(measures) | (_doubles(measures) - _insides(kept)) | _jumps(order, kept)
        still = [frame for frame in kept if _whole(frame, cuts, order)]
        if still == kept:
            break
        kept = still
    blocks = _blocks(measures, sorted(cuts | {0, len(measures)}), kept)
    return _no_single(measures, blocks, _roadmap(blocks, order))


def _no_single(measures: Sequence[Measure], blocks: list[Block], roadmap: list[str]) -> tuple[list[Block], list[str]]:
    """Return blocks and roadmap in which a measure alone is part of the section that it is played after.

    One that is played at the start is part of the section after it. A measure in another key or tempo, and one that a
    mark names, stay alone.
    """
    known = {block.name: block for block in blocks}
    entries: list[tuple[str, ...]] = []
    for name in roadmap:
        before = known[entries[-1][0]] if entries else None
        if before and _single(known[name]) and _alike(measures, before, known[name]):
            entries[-1] = (*entries[-1], name)
        elif before and len(entries[-1]) == 1 and _single(before) and before.end == known[name].start:
            if _alike(measures, before, known[name]) and roadmap.count(before.name) == 1:
                entries[-1] = (before.name, name)
            else:
                entries.append((name,))
        else:
            entries.append((name,))
    made: dict[tuple[str, ...], Block] = {}
    taken: set[str] = set()
    for entry in sorted(dict.fromkeys(entries), key=lambda entry: known[entry[0]].start):
        made[entry] = _joined([known[name] for name in entry], taken)
        taken.add(made[entry].name.lower())
    played = {name for entry in entries for name in entry}
    left = [replace(block, name=_fresh(block.name, taken)) for block in blocks if block.name not in played]
    ordered = sorted([*made.values(), *left], key=lambda block: block.start)
    return ordered, [made[entry].name for entry in entries]


def _single(block: Block) -> bool:
    return block.end - block.start == 1 and not block.mark and not block.frames and block.name.split()[0] != "Coda"


def _alike(measures: Sequence[Measure], one: Block, other: Block) -> bool:
    first, second = measures[one.start], measures[other.start]
    return first.key == second.key and first.pace == second.pace


def _joined(pieces: list[Block], taken: set[str]) -> Block:
    """Return one block of pieces played one after another: the longest names it."""
    first, start = pieces[0], pieces[0].start
    named = pieces[1] if len(pieces) > 1 and _single(first) and not _single(pieces[1]) else first
    end, frames = first.end, list(first.frames)
    tail: list[int] = []
    for piece in pieces[1:]:
        if piece.start == end and not tail:
            end, frames = piece.end, [*frames, *piece.frames]
        else:
            tail += range(piece.start, piece.end)
    return Block(start, end, _fresh(named.name, taken), tuple(frames), named.mark, tuple(tail))


def _marks(measures: Sequence[Measure]) -> set[int]:
    named = {at for at, measure in enumerate(measures) if measure.rehearsal}
    later = range(1, len(measures))
    keys = {at for at in later if measures[at].key != measures[at - 1].key}
    return named | keys | {at for at in later if measures[at].pace != measures[at - 1].pace}


def _doubles(measures: Sequence[Measure]) -> set[int]:
    """Return the places after double bar lines, where no section has a name."""
    if any(measure.rehearsal for measure in measures):
        return set()
    doubles = [0, *(at + 1 for at, measure in enumerate(measures) if measure.double), len(measures)]
    return {end for start, end in pairwise(doubles) if end - start >= SHORTEST}


def _insides(kept: list[Frame]) -> set[int]:
    return {at for frame in kept for at in range(frame.start + 1, frame.end)}


def _jumps(order: list[int], kept: list[Frame]) -> set[int]:
    """Return the places where the playing order leaves the page's, the turns of kept repeats aside."""
    inside = {at: frame for frame in kept for at in range(frame.start, frame.end)}
    cuts: set[int] = set()
    for before, after in pairwise(order):
        same = inside.get(before) is not None and inside.get(before) is inside.get(after)
        if after != before + 1 and not same:
            cuts |= {before + 1, after}
    for at in (order[0], order[-1] + 1):
        cuts.add(at)
    # A last pass may skip the endings at a repeat's end: leaving it so is no jump.
    return {at for at in cuts if not _skipped(at, kept, order)}


def _skipped(at: int, kept: list[Frame], order: list[int]) -> bool:
    """True when the place follows the last measure played of a repeat whose end is skipped."""
    for frame in kept:
        last = frame.played()[-1]
        if frame.start < at < frame.end and at == last + 1 and frame.end > last + 1:
            leaves = {after for before, after in pairwise(order) if before == last and after > last}
            return leaves <= {frame.end} and (bool(leaves) or order[-1] == last)
    return False


def _whole(frame: Frame, cuts: set[int], order: list[int]) -> bool:
    """True when no cut falls inside the repeat and every visit plays it from end to end."""
    if any(frame.start < at < frame.end for at in cuts):
        return False
    played = frame.played()
    at = 0
    while at < len(order):
        if order[at] == frame.start and order[at : at + len(played)] == played:
            at += len(played)
        elif frame.start <= order[at] < frame.end:
            return False
        else:
            at += 1
    return True


def _blocks(measures: Sequence[Measure], places: list[int], kept: list[Frame]) -> list[Block]:
    blocks: list[Block] = []
    names: set[str] = set()
    base = ""
    for start, end in pairwise(places):
        first = measures[start]
        base = first.rehearsal or ("Coda" if first.coda else base)
        name = _fresh(base, names)
        names.add(name.lower())
        frames = tuple(frame for frame in kept if start <= frame.start < end)
        blocks.append(Block(start, end, name, frames, first.rehearsal))
    return blocks


def _fresh(base: str, taken: set[str]) -> str:
    """Return a name that no section has yet: Verse, Verse 2 ...; letters where nothing is written."""
    if not base:
        return next((letter for letter in LETTERS if letter.lower() not in taken), None) or _fresh("Section", taken)
    if base.lower() not in taken:
        return base
    number = 2
    while f"{base} {number}".lower() in taken:
        number += 1
    return f"{base} {number}"


def _roadmap(blocks: list[Block], order: list[int]) -> list[str]:
    starts = {block.start: block for block in blocks}
    names: list[str] = []
    at = 0
    while at < len(order):
        block = starts.get(order[at])
        played = block.played() if block else []
        if block is None or order[at : at + len(played)] != played:
            raise AssertionError("the cuts do not fit the playing order")
        names.append(block.name)
        at += len(played)
    return names
