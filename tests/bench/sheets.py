"""How long printing takes: forty songs to one PDF, to text, and one song to notation: `python -m tests.bench.sheets`.

Prints a table of processor seconds, best of three. Planning is measured apart from drawing, since plans are usually
there already.
"""

import time
from collections.abc import Callable
from pathlib import Path

from engine.exchange.musicxml_out import musicxml
from engine.exchange.plain_text import bundle_text
from engine.exchange.sheets.bundle import bundle_pdf, sheets
from engine.plan.planner import plan
from engine.song.unfolding import unfold
from tui import store

DEMO = Path(__file__).parents[2] / "setlists" / "harbour-room.toml"
SONGS = 40


def best(work: Callable[[], object]) -> float:
    """Return the processor seconds of the quickest of three runs."""
    taken = []
    for _ in range(3):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken)


def main() -> None:
    demo = store.open_set(DEMO)
    start = time.process_time()
    planned = [(place.song, plan(unfold(place.song))) for place in demo.songs]
    print(f"{f'planning {len(planned)} songs, once':<44} {time.process_time() - start:8.2f} s")
    entries = [planned[number % len(planned)] for number in range(SONGS)]
    for name, work in (
        (f"{SONGS} songs to one PDF", lambda: bundle_pdf(demo, entries)),
        (f"{SONGS} songs to text", lambda: bundle_text(demo, sheets(demo, entries))),
        ("one song to notation", lambda: musicxml(*planned[0])),
    ):
        print(f"{name:<44} {best(work):8.2f} s")


if __name__ == "__main__":
    main()
