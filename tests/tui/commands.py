"""Commands called as a person calls them."""

import pytest

from tui.cli import main


def ran(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    """Run a command; return (exit code, output, errors)."""
    with pytest.raises(SystemExit) as ended:
        main([*map(str, words)])
    said = capsys.readouterr()
    return int(ended.value.code or 0), said.out, said.err
