"""Where the installed command starts: the wheel carries this file as `stillhand/__main__.py`.

The two packages `engine` and `tui` have names that anybody may use, so a wheel keeps them inside `stillhand/lib` and
this file puts that folder first on the path. In a checkout there is no such folder and the packages are found as usual.
"""

import sys
from pathlib import Path

_LIB = Path(__file__).resolve().parent / "lib"

# At import, not in main(): a spawned process imports this file again and must find the same packages.
if (_LIB / "tui").is_dir() and str(_LIB) not in sys.path:
    sys.path.insert(0, str(_LIB))


def main() -> None:
    """Run the command line."""
    from tui.cli.main import main as run

    run()


if __name__ == "__main__":
    main()
