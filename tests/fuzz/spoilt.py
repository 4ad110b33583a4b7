"""The stand opened over settings, a place and a practice log that something has spoilt.

    python -m tests.fuzz.spoilt [COUNT] [SEED]

Prints one line a run that went wrong. The stand must open, take a decision and a setting, and leave with 0; whatever
stood in the files is still there, in its place or set aside whole.
"""

import json
import random
import shutil
import subprocess
import sys
import tempfile
import time
from datetime import datetime
from pathlib import Path

from engine.practice.log import Try, line_of
from tests.tui.sets_in_files import pier
from tests.tui.spoilt_settings import WHOLE
from tests.tui.terminal import Terminal

PLACE = (
    b'{"sets": [{"path": "PATH", "song": 0, "step": 2, "more": {"layout": "split", "loop": [1, 3], "toured": 7}}]}\n'
)
LOG = b"".join(
    f"{line_of(Try(datetime(2026, 3, 2, 20, minute), '5C2 | - > 5D2 | -', 60.0 + minute, minute % 3 > 0))}\n".encode()
    for minute in range(20)
)
JUNK = (
    b"\0",
    b"\xff\xfe",
    b"\xef\xbb\xbf",
    b"\r",
    b'"',
    b"[",
    b"]]",
    b"= 1\n",
    b"9" * 400,
    b"\x1b[2J",
    b"\xc2\x85",
    b"{",
)


def spoilt(text: bytes, chance: random.Random) -> bytes:
    """Return a text after one to four accidents: bits turned, parts lost, doubled or overwritten, cut short."""
    for _ in range(chance.randint(1, 4)):
        at = chance.randint(0, len(text))
        far = min(at + chance.choice((1, 3, 40, 400)), len(text))
        kind = chance.randrange(6)
        if kind == 0 and at < len(text):
            text = text[:at] + bytes([text[at] ^ 1 << chance.randrange(8)]) + text[at + 1 :]
        elif kind == 1:
            text = text[:at] + text[far:]
        elif kind == 2:
            text = text[:far] + text[at:far] + text[far:]
        elif kind == 3:
            text = text[:at] + chance.choice(JUNK) + text[at:]
        elif kind == 4:
            text = text[:at] + bytes(far - at) + text[far:]
        else:
            text = text[:at] if chance.random() < 0.5 else chance.randbytes(chance.choice((0, 7, 3000)))
    return text


def run(seed: int, folder: Path) -> str:
    """Return how a run went wrong, "" when it did not."""
    chance = random.Random(seed)
    path, home = pier(folder), folder / "home"
    home.mkdir()
    whole = {
        "player.toml": WHOLE.encode(),
        "session.json": PLACE.replace(b"PATH", str(path).encode()),
        "practice.jsonl": LOG,
    }
    hurt = set(chance.sample(sorted(whole), chance.randint(1, 3)))
    before = {name: spoilt(text, chance) if name in hurt else text for name, text in whole.items()}
    for name, data in before.items():
        (home / name).write_bytes(data)
    with Terminal(str(path), STILLHAND_HOME=str(home), STILLHAND_AUDIO="null") as terminal:
        terminal.wait_for("Pier Lights", 40)
        terminal.press("dk+2\r")
        terminal.wait_for(" D  ", 20)
        terminal.press("a")
        terminal.read(0.5)
        terminal.press("a ")
        terminal.read(0.2)
        for _ in range(5):
            if terminal.process.poll() is None:
                # From the shed to the stand, and out; what could not be saved is left.
                terminal.press("\t" if "Copy to:" in terminal.text else "q")
                terminal.read(0.5)
        code = terminal.end(20)
    if code not in (0, 1) or b"Traceback" in terminal.raw or (home / "report.txt").exists():
        return f"left with {code}"
    if code == 1 and b"NOT SAVED" not in terminal.raw:
        return "left with 1 and no word why"
    if 'key = "D"' not in path.read_text():
        return "the decision was lost"
    return "; ".join(name for name, data in before.items() if not _kept(home, name, data))


def _kept(home: Path, name: str, before: bytes) -> bool:
    """Tell whether nothing of a file that was spoilt is lost; what was whole may go on."""
    aside = any(file.read_bytes() == before for file in home.glob(f"{name}*") if file.name != name)
    now = (home / name).read_bytes() if (home / name).exists() else b""
    if name == "session.json":
        return aside or _sets(before) <= _sets(now)
    lines = [line for line in before.splitlines() if line.strip() and not line.lstrip().startswith(b"theme")]
    return aside or now.startswith(before) or all(line in now.splitlines() for line in lines)


def _sets(place: bytes) -> set[Path]:
    """Return the sets whose place a file keeps; a file that nobody can read is a set of its own, found nowhere else."""
    try:
        value = json.loads(place)
        return {Path(one["path"]) for one in value.get("sets", [value]) if one.get("path")}
    except (ValueError, AttributeError, KeyError, TypeError, RecursionError):
        return {Path(repr(place))} if place.strip() else set()


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 20
    first = int(sys.argv[2]) if len(sys.argv) > 2 else int(time.time())
    failed = 0
    for seed in range(first, first + count):
        folder = Path(tempfile.mkdtemp(prefix="stillhand-spoilt-"))
        try:
            wrong = run(seed, folder)
        except (AssertionError, OSError, subprocess.TimeoutExpired) as fault:
            wrong = f"does not answer: {fault}"
        if wrong:
            print(f"seed {seed}: {wrong} ({folder})", flush=True)
        else:
            shutil.rmtree(folder)
        failed += bool(wrong)
    print(f"{count} runs, {failed} went wrong")
    sys.exit(bool(failed))


if __name__ == "__main__":
    main()
