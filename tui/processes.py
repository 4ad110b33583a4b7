"""Processes of our own: how they are started, so that nothing of the folder the player stands in is ever run."""

import os
import sys
from pathlib import Path

_PACKAGES = Path(__file__).resolve().parents[1]
"""Where `engine` and `tui` are: the checkout, or stillhand/lib in an installed wheel."""


def start_command(module: str, *arguments: str) -> list[str]:
    """Return the command that runs a module's main(arguments) in a fresh interpreter, from a checkout or a wheel."""
    start = f"import sys; sys.path.insert(0, {str(_PACKAGES)!r}); from {module} import main; main(sys.argv[1:])"
    # -P: a file of the same name as a library in the folder the player stands in is not to be imported.
    return [sys.executable, "-P", "-c", start, *arguments]


def safe_environment() -> dict[str, str]:
    """Return our environment for a process of ours, without ways to the folder the player stands in."""
    kept = [entry for entry in os.environ.get("PYTHONPATH", "").split(os.pathsep) if os.path.isabs(entry)]
    return {**os.environ, "PYTHONPATH": os.pathsep.join(kept), "PYTHONSAFEPATH": "1"}


def keep_children_safe() -> None:
    """Let processes that Python itself starts for us (a pool's) take nothing from the current folder either."""
    os.environ.update(safe_environment())
