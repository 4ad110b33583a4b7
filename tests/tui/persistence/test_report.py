"""The report of a fault of ours tells where it happened."""

from pathlib import Path

from textual.worker import WorkerFailed

from tui.persistence.report import kept_report


def test_it_lies_beside_the_players_files_and_names_the_line(home: Path) -> None:
    try:
        raise IndexError("no such string")
    except IndexError as error:
        said = kept_report(error, ", your set is kept")
    assert str(home / "report.txt") in said
    assert "your set is kept" in said
    assert "test_report.py" in (home / "report.txt").read_text()


def test_what_failed_beside_the_keys_tells_its_own_line(home: Path) -> None:
    try:
        raise IndexError("no such string")
    except IndexError as error:
        kept_report(WorkerFailed(error))
    assert "test_report.py" in (home / "report.txt").read_text()
