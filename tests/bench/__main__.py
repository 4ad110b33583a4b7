"""All measurements, area by area, each with its floor or peers in the same run: `python -m tests.bench [AREA...]`.

Each area runs in a process of its own, so that none warms or crowds another. Nothing fails by what it measures.
"""

import platform
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
AREAS = ("planner", "latency", "growth", "clock", "audio", "sheets", "plans_signed", "signs")


def main() -> None:
    areas = sys.argv[1:] or list(AREAS)
    if unknown := [area for area in areas if area not in AREAS]:
        sys.exit(f"{', '.join(unknown)}: there is {', '.join(AREAS)}")
    print(f"{platform.platform()}, {platform.machine()}, Python {platform.python_version()}")
    for area in areas:
        print(f"\n== {area} ==", flush=True)
        subprocess.run([sys.executable, "-m", f"tests.bench.{area}"], cwd=ROOT, check=False)


if __name__ == "__main__":
    main()
