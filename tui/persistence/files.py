"""Text files read with plain words for what is wrong, files of any kind saved whole or not at all."""

import contextlib
import errno
import os
import stat
from dataclasses import dataclass
from pathlib import Path

from engine.errors import EngineError

LARGEST = 500_000
"""Bytes beyond which a file is no song, nor a set: the longest chart is a fiftieth of it, and reading this much
already takes some ten seconds (own choice)."""

PART = ".stillhand-{}.part"
"""The name of a file that is being written, until it takes the place of the old one."""
LEFT_BEHIND = 60.0
"""Seconds after which such a file was left by a killed process; writing one takes far less (own choice)."""

SHIPPED = Path(__file__).resolve().parents[2] / "setlists"
"""The demo set of the wheel (beside `tui` under lib) or of the checkout: the same place relative to this file."""
CHECKOUT = (SHIPPED.parent / "pyproject.toml").is_file()
"""Only in a checkout the demo set is a file like any other; what was installed is never written into."""


@dataclass(eq=False)
class StoreError(EngineError):
    """A file that cannot be opened or saved: which, what is wrong, what to try."""

    path: Path
    found: str
    hint: str = ""

    def __str__(self) -> str:
        return f"{self.path}: {self.found}" + (f", {self.hint}" if self.hint else "")


def read_text(path: Path) -> str:
    """Return a file's text.

    Raises:
        StoreError: missing, a folder, not readable, too large or no text.
    """
    try:
        status = path.stat()
        if stat.S_ISDIR(status.st_mode):
            raise StoreError(path, "that is a folder", _folder_hint(path))
        if not stat.S_ISREG(status.st_mode):
            raise StoreError(path, "that is no file", "name a set or a song (.toml)")
        if status.st_size > LARGEST:
            raise StoreError(
                path, f"{status.st_size / 1e6:.2g} MB is far too large for a song", "is it the right file?"
            )
        content = path.read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        raise StoreError(path, "there is no such file", _near_hint(path)) from None
    except PermissionError:
        raise StoreError(path, "the file may not be read", "ask for the right to read it, or copy it") from None
    except (OSError, ValueError) as error:
        raise StoreError(path, f"the file cannot be read ({reason(error)})") from None
    return _decoded(path, content)


def _decoded(path: Path, content: bytes) -> str:
    if b"\0" in content:
        raise StoreError(path, "that is no text file", "name a set or a song (.toml)")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise StoreError(path, f"line {line} is not UTF-8 text", "save the file as UTF-8 in your editor") from None


def reason(error: Exception) -> str:
    """Return what the system says is wrong, in small letters, to stand within a sentence."""
    return (getattr(error, "strerror", None) or str(error)).lower()


def _folder_hint(folder: Path) -> str:
    """Name the sets and songs in a folder."""
    try:
        names = sorted(file.name for file in folder.glob("*.toml"))[:4]
    except OSError:
        names = []
    return f"open one of its files: {', '.join(names)}" if names else "name a set or a song (.toml)"


def _near_hint(path: Path) -> str:
    from difflib import get_close_matches

    try:
        names = {file.stem.casefold(): file.name for file in path.parent.glob("*.toml")}
    except (OSError, ValueError):
        names = {}
    # Compared without the ending, which all have and which would make every name look near.
    near = get_close_matches(path.stem.casefold(), list(names)[:2000], n=1)
    return f"did you mean {names[near[0]]}?" if near else "check its name and folder"


def save(path: Path, content: str | bytes) -> None:
    """Write a file whole or not at all: the old one stays until the new one is safely on the disk. Text is UTF-8.

    A symbolic link is followed and the file's rights are kept.

    Raises:
        StoreError: the folder cannot be written, or the disk is full; the old file is untouched.
    """
    target = Path(os.path.realpath(path))
    temporary = target.with_name(PART.format(os.urandom(6).hex()))
    try:
        if target.is_relative_to(SHIPPED) and not CHECKOUT:
            raise StoreError(path, "this is the demo set as it was installed", "save a copy in a folder of your own")
        target.parent.mkdir(parents=True, exist_ok=True)
        if target.exists() and not os.access(target, os.W_OK):
            raise StoreError(
                path, "the file may not be changed", "it is marked read-only: allow writing, or save a copy"
            )
        mode = stat.S_IMODE(target.stat().st_mode) if target.exists() else None
        _write(temporary, content, mode)
        _sweep(temporary)
        os.replace(temporary, target)
    except (OSError, ValueError) as error:
        raise StoreError(path, *_why_unsaved(error)) from None
    finally:
        with contextlib.suppress(OSError, ValueError):
            os.unlink(temporary)
    _sync_folder(target.parent)


def hold(folder: Path) -> int | None:
    """Hold a folder, so that no other copy of the program writes there meanwhile; None where another one holds it.

    Where a system knows no such thing, a number below zero is returned and nothing is held.
    """
    try:
        import fcntl

        handle = os.open(folder, os.O_RDONLY)
    except (ImportError, OSError):
        return -1
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        os.close(handle)
        return None if error.errno in (errno.EACCES, errno.EAGAIN) else -1
    return handle


def release(handle: int) -> None:
    """Let go of a folder."""
    if handle >= 0:
        os.close(handle)


def _write(path: Path, content: str | bytes, mode: int | None) -> None:
    """Write a new file and have it on the disk, with these rights from its first byte (None: the usual ones)."""
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666 if mode is None else 0o600), "wb") as file:
        if mode is not None:
            with contextlib.suppress(OSError):
                os.chmod(path, mode)
        file.write(content.encode("utf-8", errors="replace") if isinstance(content, str) else content)
        file.flush()
        os.fsync(file.fileno())


def _sweep(written: Path) -> None:
    """Clear away what a process left that was killed while it saved; their times are told by the folder's own disk,
    so that no clock set back or forward takes a file that is being written now."""
    with contextlib.suppress(OSError):
        now = written.stat().st_mtime
        for left in written.parent.glob(PART.format("*")):
            with contextlib.suppress(OSError):
                if now - left.stat().st_mtime > LEFT_BEHIND:
                    left.unlink()


def _sync_folder(folder: Path) -> None:
    """Have the new name on the disk too; systems that cannot do so keep it anyway."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _why_unsaved(error: OSError | ValueError) -> tuple[str, str]:
    number = getattr(error, "errno", None)
    if number in (errno.EACCES, errno.EPERM, errno.EROFS):
        return "the folder may not be written", "nothing is lost on the disk: save a copy in a folder of your own"
    if number in (errno.ENOSPC, errno.EDQUOT):
        return "the disk is full", "the file is as it was: make room and save again"
    return f"the file could not be saved ({reason(error)})", "the file is as it was"
