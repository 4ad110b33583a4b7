"""Where the installed command starts: the wheel carries this file as `stillhand/__main__.py`.

The two packages `engine` and `tui` have names that anybody may use, so a wheel keeps them inside `stillhand/lib` and
this file puts that folder first on the path. In a checkout there is no such folder and the packages are found as usual.
"""

# Only what Python itself has loaded by now: anything else could be a file in the folder the player stands in, which
# `python -m` puts first on the path until it is taken off here.
import os
import sys

_LIB = os.path.join(os.path.dirname(os.path.realpath(__file__)), "lib")


def forget_current_folder(own: str) -> None:
    """Take the folder the player stands in off the path, unless it is our own: nothing in it is ever run."""
    here = os.path.realpath(os.getcwd()) if os.path.isdir(".") else ""
    sys.path[:] = [entry for entry in sys.path if os.path.realpath(entry or ".") == own or not _is(entry, here)]


def _is(entry: str, folder: str) -> bool:
    return not entry or os.path.realpath(entry) == folder


# At import, not in main(): a spawned process imports this file again and must find the same packages.
if os.path.isdir(os.path.join(_LIB, "tui")):
    forget_current_folder(_LIB)
    if _LIB not in sys.path:
        sys.path.insert(0, _LIB)


def main() -> None:
    """Run the command line."""
    from tui.cli.main import main as run

    run()


if __name__ == "__main__":
    main()
