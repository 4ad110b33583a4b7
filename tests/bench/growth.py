"""What the memories grow to: 1,200 changes of key on the stand, and what each memory holds beside its bound.

Run `python -m tests.bench growth`. The stand and its planner are real processes; what is kept by the functions of
`engine` and `tui` is counted in this one, after the same songs were planned in all keys.
"""

import functools
import gc
import os
import resource
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.latency import memory, song_set

CHANGES = 1_200
LOOKS = 4
LONG = 3_000
"""Bars of the song whose twelve keys are compared."""


def main() -> None:
    folder = Path(tempfile.mkdtemp(prefix="bench"))
    os.environ["STILLHAND_HOME"] = str(folder / "home")
    stand(str(song_set(folder, 4)))
    memories()
    long_song(folder)


def stand(path: str) -> None:
    """Change the key of the open song and see what the interface and the planner come to."""
    from tests.tui.terminal import Terminal

    with Terminal(path, "--song", "1", STILLHAND_AUDIO="null") as terminal:
        terminal.wait_for("♩=")
        terminal.read(4.0)
        print(f"{'changes of key':<26}{'interface MB':>14}{'planner MB':>14}")
        print(f"{0:<26}{memory(terminal.process.pid):14.0f}{memory(planner_of(terminal.process.pid)):14.0f}")
        for change in range(1, CHANGES + 1):
            terminal.press(f"k{'+-'[change // 40 % 2]}{1 + change % 11}\r")
            terminal.read(0.03)
            if change % (CHANGES // LOOKS) == 0:
                terminal.read(3.0)
                now = memory(terminal.process.pid), memory(planner_of(terminal.process.pid))
                print(f"{change:<26}{now[0]:14.0f}{now[1]:14.0f}", flush=True)


def planner_of(pid: int) -> int:
    """Return the planning process of a stand, 0 where the system does not tell."""
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            parent = (folder / "stat").read_text().rpartition(")")[2].split()[1]
            command = (folder / "cmdline").read_bytes()
        except OSError:
            continue
        if parent == str(pid) and b"tui.planning.worker" in command:
            return int(folder.name)
    return 0


def memories() -> None:
    """Plan songs in all keys in this process and print how full the memories are, the fullest first."""
    from engine.planning.model import Request
    from engine.planning.planner import plan
    from engine.planning.twelve_keys import compare_keys
    from engine.song.unfolding import unfold
    from tests.bench.songs import song

    for changes in (32, 64, 96):
        compare_keys(song(changes), Request(), plan, unfold)
    full = [(info.currsize / info.maxsize, info, name) for name, info in kept()]
    print(f"\n{'memory':<52}{'holds':>8}{'at most':>10}")
    for _, info, name in sorted(full, reverse=True)[:12]:
        print(f"{name:<52}{info.currsize:8}{info.maxsize:10}")


def kept() -> list[tuple[str, "functools._CacheInfo"]]:
    """Return every function of ours that remembers its answers, and how many it has."""
    found = {}
    for one in gc.get_objects():
        if isinstance(one, functools._lru_cache_wrapper):
            module = getattr(one, "__module__", "") or ""
            if module.startswith(("engine.", "tui.")):
                found[f"{module}.{one.__qualname__}"] = one.cache_info()
    return sorted(found.items())


def long_song(folder: Path) -> None:
    """Compare the twelve keys of a song of 3,000 bars."""
    import subprocess

    from tests.bench.latency import CHORDS, SONG

    bars = "| " + " | ".join(CHORDS[number % len(CHORDS)] for number in range(LONG // 2)) + " |"
    path = folder / "long.toml"
    text = SONG.format(title="Long", bars=bars).replace("A x4", "A, B")
    path.write_text(f'{text}[sections.B]\nbars = "{bars}"\n')
    begin = time.perf_counter()
    subprocess.run([sys.executable, "-m", "tui", "keys", str(path)], check=True, stdout=subprocess.DEVNULL)
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    print(
        f"\nthe twelve keys of {LONG:,} bars: {time.perf_counter() - begin:.1f} s, "
        f"{used.ru_utime + used.ru_stime:.1f} s of processors"
    )


if __name__ == "__main__":
    main()
