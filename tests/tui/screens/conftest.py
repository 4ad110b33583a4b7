"""Screens are tested with the player's own settings out of reach and without what a developer's terminal sets."""

from pathlib import Path

import pytest


@pytest.fixture(autouse=True)
def _own_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STILLHAND_HOME", str(tmp_path / "home"))
    monkeypatch.setenv("TEXTUAL_ANIMATIONS", "none")
    for name in ("NO_COLOR", "COLORTERM", "STILLHAND_THEME"):
        monkeypatch.delenv(name, raising=False)
