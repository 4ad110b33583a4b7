"""Songs to measure with; run by itself, the memory that planning 10,000 changes takes: python -m tests.bench.songs"""

import resource
from dataclasses import replace
from pathlib import Path
from random import Random

from engine.planning.model import Request
from engine.song.model import Song, Step
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold

CHANGES = [
    "Dm7", "G7", "Cmaj7", "Am7", "Dm7b5", "G7b9", "Cm6", "Cm7", "F7", "Bbmaj7", "Gm7", "Em7b5", "A7b9", "Dm7",
    "D7", "Gmaj7", "Em7", "A7", "Dmaj7", "Bm7", "E7", "Am7", "D7", "G6", "Ab7", "Gmaj7", "Fm7", "Bb7", "Ebmaj7",
    "Cm7", "Abmaj7", "G7sus4",
]  # fmt: skip


def song(changes: int) -> Song:
    """Return a song of so many changes, two to a bar."""
    chords = (CHANGES * (changes // len(CHANGES) + 1))[:changes]
    bars = (f"{one} {two}" for one, two in zip(chords[::2], chords[1::2], strict=True))
    return song_from_chart(f"| {' | '.join(bars)} |")


def long_song(changes: int) -> tuple[Step, ...]:
    """Return the steps of a song longer than a chart may be, each written for itself, in an order that never comes
    again."""
    steps, order = unfold(song(100)), Random(1)
    return tuple(
        replace(order.choice(steps), index=index, written=("Chart", index, 0), section_start=not index)
        for index in range(changes)
    )


def main() -> None:
    from engine.planning.planner import plan

    plan(long_song(10_000), Request())
    # The kernel's figure for a process may still be that of the one that started it; its own is in /proc.
    status = Path("/proc/self/status")
    own = status.read_text(encoding="utf-8").partition("VmHWM:")[2].split() if status.exists() else []
    peak = float(own[0] if own else resource.getrusage(resource.RUSAGE_SELF).ru_maxrss) / 1024
    print(f"  peak memory of a process that plans 10,000 changes: {peak:.0f} MB (goal under 200)")


if __name__ == "__main__":
    main()
