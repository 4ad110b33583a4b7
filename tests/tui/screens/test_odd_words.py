"""Whatever is typed into a line of the program, it goes on and says what is wrong."""

from pathlib import Path

import pytest

from tests.tui.sets_in_files import pier
from tests.tui.showing import running, shown, stand_app
from tui.persistence import store

ODD = [
    "9" * 250,
    "n" * 290 + ".toml",
    "~nobody/x.toml",
    "/",
    "..",
    "\udce9.toml",
    "٣",
    "| | |",
    "C" + "/E" * 90,
    "x \u202e y",
    "-1",
]

LINES = {
    "a song to add": ("s", "a"), "a new song": ("s", "n"), "the set's title": ("s", "i"),
    "a copy of the set": ("s", "c"),
    "title": ("s", "e", "enter"), "key": ("s", "e", "down", "enter"), "meter": ("s", "e", "down", "down", "enter"),
    "tempo": ("s", "e", *["down"] * 3, "enter"), "feel": ("s", "e", *["down"] * 4, "enter"),
    "count": ("s", "e", *["down"] * 5, "enter"), "roadmap": ("s", "e", *["down"] * 6, "enter"),
    "a new section": ("s", "e", *["down"] * 7, "a"), "a section's name": ("s", "e", *["down"] * 7, "n"),
    "a split": ("s", "e", *["down"] * 7, "s"), "a copied section": ("s", "e", *["down"] * 7, "c"),
    "a bar": ("b", "e"), "new bars": ("b", "i"), "a note": ("n",), "a song to find": ("slash",),
}  # fmt: skip


@pytest.mark.parametrize("keys", LINES.values(), ids=LINES)
async def test_any_words_in_any_line_are_answered(tmp_path: Path, keys: tuple[str, ...]) -> None:
    path = pier(tmp_path)
    app = stand_app(store.open_set(path), path=path)
    async with running(app) as pilot:
        for words in ODD:
            while app.screen is not app.stand:
                app.pop_screen()
            app.stand._hold(None)
            await pilot.press(*keys)
            line = app.screen._input  # type: ignore[attr-defined]
            assert line is not None
            line.value = ""
            line.take_text(words)
            await pilot.press("left", "enter")
            await pilot.pause(0.02)
            assert all(len(row) <= 80 for row in shown(app)), words
            assert app.is_running
    assert (tmp_path / "set.toml").read_text(encoding="utf-8").count("pier.toml") >= 1
