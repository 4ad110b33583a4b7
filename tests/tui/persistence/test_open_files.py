"""The files of the open set are opened after the first picture."""

from pathlib import Path

from tests.tui.sets_in_files import written
from tests.tui.waiting import soon
from tui.persistence import store
from tui.persistence.open_files import OpenFiles
from tui.session import decisions
from tui.session.session import Session


async def test_what_is_decided_before_the_files_are_opened_is_saved_all_the_same(tmp_path: Path) -> None:
    path = written(tmp_path)
    opened = store.open_set(path)
    session = Session(opened)
    session.become(decisions.retimed(session.now, 0, 77.0))
    files = OpenFiles(session, path, opened)
    await files.start()
    await soon(lambda: "tempo = 77" in path.read_text())
    await files.close()
