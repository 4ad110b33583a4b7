"""A coverage-guided search for what a reader stumbles over, run by hand: `python -m tests.fuzz READER --minutes 10`.

It wants atheris (`pip install atheris`, Python 3.11 or 3.12), which mutates the seeds of `readers` and keeps what
reaches new code. A finding is any exception that is not the reader's own, or more than two seconds for less than 64 kB.
Each kind is told once, with its bytes in the folder given by --out; once mended it becomes a test beside the reader's.
"""

import argparse
import sys
import tempfile
import time
import traceback
from pathlib import Path

SLOWEST = 2.0
"""Seconds of the process's own time that an input may take."""
LONGEST = 65_536
"""Bytes of the longest input."""
WORDS = (
    "maj7", "m7b5", "sus4", "add9", "no3", "alt", "dim7", "aug", "N.C.", "||:", ":||", "[1. ", "[2. ", "| % |",
    "(push)", "roadmap = ", "[sections.A]", "bars = ", "key = ", "meter = ", "[[pins]]", "[[songs]]", "file = ",
    "numbers = true", "tempo = ", "pickup = ", "until = ", "x2", "[reading]", "names = ", "Verse", "Chorus:",
    "Capo 2", "Key: ", "D.S. al Coda", "<harmony>", "<root>", "<kind>", "<degree>", "<barline>",
    "<repeat direction=", "<ending number=", "<time>", "<key>", "<transpose>", "<backup>", "<forward>",
    "<duration>", "<measure>", "<direction>", "<sound ", "<words>", "<staves>", "1e999", "nan", "-1", "0",
    "999999999", "true", "null", "1979-05-27T07:32:00Z", "inf",
)  # fmt: skip


def main() -> None:
    """Search one reader for so many minutes and print what was found."""
    import atheris

    with atheris.instrument_imports(include=["engine", "tui"]):
        from tests.fuzz import readers

    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=(__doc__ or "").splitlines()[0])
    parser.add_argument("reader", choices=sorted(readers.LAWS))
    parser.add_argument("--minutes", type=float, default=10.0)
    parser.add_argument("--out", type=Path, default=None, help="where findings and the grown seeds are kept")
    wanted = parser.parse_args()
    out = wanted.out or Path(tempfile.mkdtemp(prefix="fuzz-"))
    seeds = out / "seeds" / wanted.reader
    seeds.mkdir(parents=True, exist_ok=True)
    for place, seed in enumerate(readers.seeds(wanted.reader)):
        (seeds / f"{place:02}").write_bytes(seed)
    words = out / "words"
    words.write_text("".join(f"{_quoted(word)}\n" for word in WORDS))
    found: set[str] = set()

    def one(data: bytes) -> None:
        began = time.process_time()
        try:
            readers.LAWS[wanted.reader](data)
            kind = "slow" if time.process_time() - began > SLOWEST else ""
        except Exception as error:
            last = traceback.extract_tb(error.__traceback__)[-1]
            kind = f"{type(error).__name__} at {Path(last.filename).name}:{last.lineno}"
        if kind and kind not in found:
            found.add(kind)
            place = out / f"{wanted.reader}-{len(found):02}"
            place.write_bytes(data)
            print(f"FOUND {wanted.reader}: {kind}: {place} {data[:60]!r}", flush=True)

    seconds = int(wanted.minutes * 60)
    options = [f"-max_total_time={seconds}", f"-max_len={LONGEST}", f"-dict={words}", "-timeout=60", "-verbosity=0"]
    print(f"{wanted.reader}: {wanted.minutes:g} minutes, kept in {out}", flush=True)
    atheris.Setup([sys.argv[0], *options, "-print_final_stats=1", str(seeds)], one)
    atheris.Fuzz()


def _quoted(word: str) -> str:
    return '"' + word.replace("\\", "\\\\").replace('"', '\\"') + '"'


if __name__ == "__main__":
    main()
