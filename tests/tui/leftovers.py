"""Which processes of a run are still there, whatever session they have made for themselves."""

import os
from pathlib import Path


def left_of(home: Path | str) -> list[str]:
    """Return the commands of all living processes whose STILLHAND_HOME is this folder; [] where there is no /proc."""
    mark = f"STILLHAND_HOME={home}".encode()
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            environ, command = (folder / "environ").read_bytes(), (folder / "cmdline").read_bytes()
        except OSError:
            continue
        # A process that has ended and waits to be counted has neither.
        if mark in environ.split(b"\0") and int(folder.name) != os.getpid():
            found.append(f"{folder.name} {command.replace(bytes(1), b' ').decode(errors='replace').strip()}")
    return found
