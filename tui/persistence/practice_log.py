"""The practice log's file: a plain text the player owns, only ever added to. Nothing of it leaves the machine.

Each try is one write, put on the disk before the next one is asked for: whoever pulls the plug loses at most the try in
flight. A half-written last line is left where it is; the next try begins on a line of its own.
"""

import os
from datetime import datetime
from pathlib import Path

from engine.practice.lateness import Ride
from engine.practice.log import Log, Try, caution_line, line_of, read_log, ride_line, taken_back_line
from tui.persistence.files import StoreError, reason
from tui.persistence.folders import data_folder

NAME = "practice.jsonl"


def log_path() -> Path:
    """Return where the log is kept."""
    return data_folder() / NAME


def load(path: Path | None = None) -> Log:
    """Return what the log holds, an empty one when there is none.

    Raises:
        StoreError: it is there and cannot be read.
    """
    path = path or log_path()
    try:
        data = path.read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        return Log()
    except OSError as error:
        raise StoreError(
            path, f"the practice log cannot be read ({reason(error)})", "move it away or mend it"
        ) from None
    # A byte that is no text makes its own line unreadable, not the others.
    return read_log(data.decode("utf-8-sig", errors="replace"))


def add(one: Try, path: Path | None = None) -> None:
    """Add a try to the log.

    Raises:
        StoreError: it cannot be written.
    """
    _append(line_of(one), path or log_path())


def add_ride(ride: Ride, path: Path | None = None) -> None:
    """Add how late the shifts of a song came that was played in time.

    Raises:
        StoreError: it cannot be written.
    """
    _append(ride_line(ride), path or log_path())


def add_caution(when: datetime, path: Path | None = None) -> None:
    """Note that the caution was seen.

    Raises:
        StoreError: it cannot be written.
    """
    _append(caution_line(when), path or log_path())


def take_back(when: datetime, path: Path | None = None) -> None:
    """Take back the last try: a line says so, nothing is erased.

    Raises:
        StoreError: it cannot be written.
    """
    _append(taken_back_line(when), path or log_path())


def _append(line: str, path: Path) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_APPEND | getattr(os, "O_BINARY", 0), 0o666)
        try:
            start = "" if _ends_whole(handle) else "\n"
            data = f"{start}{line}\n".encode("utf-8", "replace")
            while data:
                data = data[os.write(handle, data) :]
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError as error:
        raise StoreError(path, f"the try could not be kept ({reason(error)})", "free the disk or the folder") from None


def _ends_whole(handle: int) -> bool:
    """True when the file is empty or its last line is complete."""
    size = os.fstat(handle).st_size
    if not size:
        return True
    os.lseek(handle, size - 1, os.SEEK_SET)
    return os.read(handle, 1) == b"\n"
