"""What a pianist would sign, measured on open progressions: python -m tests.bench.plans_signed [SONGS]

Reads `progressions_*.json` and `printed_fingerings.json` from the folder in `STILLHAND_REFERENCE` (say where they lie;
without them this prints so and ends). Each song is planned with `auto`, alone and beside a bass player, each chord
written once for itself; chords that only repeat the one before are left out.
"""

import json
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from pathlib import Path
from statistics import median

import numpy as np

from engine.chord.model import Chord
from engine.ear.limits import muddiness
from engine.hand.fingering import fingerings
from engine.method_names import METHOD_NAMES
from engine.planning.model import Plan, PlannedStep, Request
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from engine.voicing.tones import TENSIONS, seventh, third

REFERENCE = Path(os.environ.get("STILLHAND_REFERENCE", "reference"))
NO_CHORD = "N.C."
FIFTH, FOURTH = 7, 5


@dataclass(slots=True)
class Counts:
    """What was counted over all plans of one line-up; shares are taken of `chords`, of `shifts` or of their own."""

    chords: int = 0
    shifts: int = 0
    silent: int = 0
    in_and_out: int = 0
    left_count: int = 0
    slashes: int = 0
    slashes_poor: int = 0
    triads: int = 0
    rootless_triads: int = 0
    far: int = 0
    unasked: int = 0
    muddy: int = 0
    warned: int = 0
    drifts: list[float] = field(default_factory=list)
    changes: list[int] = field(default_factory=list)
    uneven: list[int] = field(default_factory=list)


def songs(most: int) -> Iterator[tuple[str, str]]:
    """Yield the title and the bars of each song, a chord a bar."""
    for file in sorted(REFERENCE.glob("progressions_*.json")):
        for song in json.loads(file.read_text(encoding="utf-8"))["songs"][:most]:
            symbols = [symbol for symbol, _ in song["chords"] if symbol != NO_CHORD]
            told = [one for place, one in enumerate(symbols) if place == 0 or symbols[place - 1] != one]
            yield song["title"], f"| {' | '.join(told)} |"


def count(found: Plan, counts: Counts, both: bool) -> None:
    """Add what one plan is to the counts."""
    steps = found.steps
    counts.chords += len(steps)
    counts.shifts += max(0, len(steps) - 1)
    counts.silent += sum(both and not (step.left and step.right) for step in steps)
    played = [(bool(step.left), bool(step.right)) for step in steps]
    counts.in_and_out += sum(one != two for one, two in pairwise(played))
    counts.left_count += sum(len(one.left) != len(two.left) for one, two in pairwise(steps))
    counts.uneven.append(max(len(step.keys) for step in steps) - min(len(step.keys) for step in steps))
    tops = [step.keys[-1] for step in steps if step.keys]
    counts.far += sum(abs(one - two) > FIFTH for one, two in pairwise(tops))
    part = max(1, len(tops) // 4)
    counts.drifts.append(sum(tops[-part:]) / part - sum(tops[:part]) / part)
    counts.changes.append(sum(one.method != two.method for one, two in pairwise(steps)))
    counts.muddy += sum(muddiness(step.keys) > 0 for step in steps)
    counts.warned += sum(bool(step.warnings) for step in steps)
    for step in steps:
        _count_chord(step, counts, both)


def _count_chord(step: PlannedStep, counts: Counts, both: bool) -> None:
    chord = step.step.chord
    assert chord is not None
    said = {key % 12 for key in step.keys}
    if chord.bass != chord.root:
        counts.slashes += 1
        poor = chord.root.pc not in said or len(said) <= 2 or (both and not (step.left and step.right))
        counts.slashes_poor += poor
    elif _triad(chord):
        counts.triads += 1
        counts.rootless_triads += chord.root.pc not in said
    own = {tone.pc for tone in chord.tones} | {chord.bass.pc}
    counts.unasked += bool(said - own)


def _triad(chord: Chord) -> bool:
    return seventh(chord) is None and third(chord) is not None and not set(chord.degrees) & set(TENSIONS)


def table(title: str, counts: Counts) -> None:
    """Print one line-up's figures with what is wanted."""
    print(f"\n{title}: {counts.chords} chords")
    rows: list[tuple[str, str, str]] = [
        ("one hand silent though both may play", share(counts.silent, counts.chords), "at most 1 %"),
        ("a hand goes in or out inside a section", share(counts.in_and_out, counts.shifts), "0"),
        ("the left hand's number of keys changes", share(counts.left_count, counts.shifts), "at most 15 %"),
        ("slash chords without root, of two pitches, one hand", share(counts.slashes_poor, counts.slashes), "0"),
        ("root missing in a triad", share(counts.rootless_triads, counts.triads), "0"),
        ("top note moves more than a fifth", share(counts.far, counts.shifts), "at most 2 %"),
        ("top note's drift, last quarter less first, worst", f"{max(counts.drifts, key=abs):+.1f}", "within 5"),
        ("changes of method, median and most", f"{median(counts.changes):g}, {max(counts.changes)}", "0"),
        ("unasked tensions while colour is off", share(counts.unasked, counts.chords), "0"),
        ("chords below the low limits", share(counts.muddy, counts.chords), "under 2 % for the left hand alone"),
        ("chords with a warning", share(counts.warned, counts.chords), ""),
    ]
    for name, value, wanted in rows:
        print(f"  {name:<52} {value:>10}   {wanted}")


def share(part: int, all_: int) -> str:
    """Return a part in per cent."""
    return f"{100 * part / all_:.1f} %" if all_ else "none"


def measured(charts: Sequence[tuple[str, str]], request: Request, title: str) -> None:
    """Plan all songs with a request and print what was counted."""
    counts = Counts()
    for _, bars in charts:
        count(plan(unfold(song_from_chart(bars)), request), counts, request.hands == "both")
    table(title, counts)


def tenths(charts: Sequence[tuple[str, str]]) -> None:
    """Print how many left hands of spreads hold a real tenth at a reach of 200 mm."""
    found = wide = rolled = 0
    for _, bars in charts[:20]:
        for step in plan(unfold(song_from_chart(bars)), Request(method="spread")).steps:
            if step.method == "spread" and step.left:
                found += 1
                wide += step.left[-1].key - step.left[0].key in (15, 16)
                rolled += any("roll" in warning for warning in step.warnings)
    print(
        f"\nspreads at 200 mm: {share(wide, found)} with a tenth (wanted: offered), {share(rolled, found)} rolled, said"
    )


def single_methods(charts: Sequence[tuple[str, str]]) -> None:
    """Print how often one method alone is cheaper than auto, which is wanted never."""
    beaten = 0
    for _, bars in charts:
        steps = unfold(song_from_chart(bars))
        for request in (Request(), Request(bass=True)):
            auto = plan(steps, request).effort
            single = min(plan(steps, replace(request, method=method)).effort for method in METHOD_NAMES)
            beaten += single < auto - 1e-9
    print(f"a single method beats auto: {beaten} of {2 * len(charts)} (wanted 0)")


def fingers() -> None:
    """Print how often a printed fingering of three or four keys is our first choice, and how often none of ours."""
    file = REFERENCE / "printed_fingerings.json"
    if not file.exists():
        return
    first = known = every = 0
    for _, hand, keys, fingering in json.loads(file.read_text(encoding="utf-8"))["chords"]:
        if len(keys) < 3:
            continue
        row = np.full((1, 5), 128, dtype=np.int32)
        row[0, : len(keys)] = keys
        ours = [_order(under) for under in fingerings(row, hand, 227.0).under.tolist()]
        every += 1
        first += bool(ours) and ours[0] == fingering
        known += fingering in ours
    print(
        f"printed fingerings of 3 and 4 keys, {every}: our first choice {share(first, every)} (wanted 65 %), ", end=""
    )
    print(f"not among ours {share(every - known, every)} (wanted under 2 %)")


def _order(under: Sequence[int]) -> list[int]:
    return [finger for _, finger in sorted((key, finger) for finger, key in enumerate(under, 1) if key != 128)]


def main() -> None:
    charts = list(songs(int(sys.argv[1]) if len(sys.argv) > 1 else 1000))
    if not charts:
        print(f"no progressions_*.json in {REFERENCE}: set STILLHAND_REFERENCE to their folder")
        return
    print(f"{len(charts)} songs")
    jobs: list[Callable[[], None]] = [
        lambda: measured(charts, Request(), "alone"),
        lambda: measured(charts, Request(bass=True), "with a bass player"),
        lambda: measured(charts, Request(hands="left"), "left hand alone"),
        lambda: measured(charts, Request(hands="left", bass=True), "left hand alone, with a bass player"),
        lambda: tenths(charts),
        lambda: single_methods(charts),
        fingers,
    ]
    for job in jobs:
        job()


if __name__ == "__main__":
    main()
