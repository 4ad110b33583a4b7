"""Each screen as it looked when somebody last looked at it, in four sizes; and the stand in its three themes."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest

from tests.tui.pretended_clock import app_with_clock
from tests.tui.screens.in_the_shed import log_quiet
from tests.tui.screens.test_every_key import OPENS
from tests.tui.showing import running, stand_app, text
from tui.midi.port_list import PortsSeen
from tui.persistence import practice_log
from tui.widgets.palette import THEMES

PAGES = [screen for screen in OPENS if screen != "stand"]
"""All but the stand, whose pictures are kept with their roles."""


@pytest.fixture
def same_text(request: pytest.FixtureRequest) -> Callable[[str], None]:
    """Compare with the text kept in pictures/ beside the test; a missing one is written and has to be looked at."""

    def compare(drawn: str) -> None:
        path = Path(request.path).parent / "pictures" / f"{request.node.name}.txt"
        drawn = "\n".join(row.rstrip() for row in drawn.splitlines()) + "\n"
        if not path.exists():
            path.write_text(drawn, encoding="utf-8")
            pytest.fail(f"new picture {path.name}: look at it, then run again")
        assert drawn == path.read_text(encoding="utf-8")

    return compare


@pytest.mark.parametrize("size", [(120, 36), (80, 24), (60, 20), (40, 10)], ids=lambda size: f"{size[0]}-{size[1]}")
@pytest.mark.parametrize("screen", PAGES)
async def test_a_page_looks_as_it_did(screen: str, size: tuple[int, int], same_text: Callable[[str], None]) -> None:
    practice_log.add_caution(datetime(2026, 3, 2, 20, 30))
    app, clock = app_with_clock()
    clock.seen, clock.status = PortsSeen(("Room Piano", "Loft Organ"), (), ""), "no MIDI"
    app.session.toured = 99
    async with running(app, size) as pilot:
        await pilot.press(*OPENS[screen])
        await log_quiet(app)
        before = ""
        while before != text(app):
            before = text(app)
            await pilot.pause(0.1)
        same_text(before)


async def test_themes_change_no_letter_and_plain_has_no_colour() -> None:
    seen = {}
    for theme in THEMES:
        app = stand_app()
        app.session.toured = 99
        async with running(app) as pilot:
            app.context.display.theme = theme
            app.show_top()
            await pilot.pause()
            seen[theme] = text(app)
            strips = app.screen._compositor.render_strips()
            coloured = [
                part for strip in strips for part in strip if part.style and (part.style.color or part.style.bgcolor)
            ]
            assert bool(coloured) is (theme != "plain")
    assert seen["dark"] == seen["light"]
