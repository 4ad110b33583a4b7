"""Files that a command writes: never over another one unasked, in a folder that is made, whole or not at all."""

from dataclasses import dataclass
from pathlib import Path

import click

from engine.errors import EngineError


@dataclass(eq=False)
class NotWritten(EngineError):
    """A file that the system refuses to write."""

    path: str
    why: str

    def __str__(self) -> str:
        return f"{self.path}: {self.why}. Choose another folder or name."


def check_free(target: Path, force: bool, ending: str = "") -> None:
    """Refuse a file that exists, or whose name has another ending than is wanted.

    Raises:
        click.UsageError: what is wrong with the name.
    """
    if ending and target.suffix.lower() != ending:
        raise click.UsageError(f"{target} does not end in {ending}: let its name end so.")
    if target.exists() and not force:
        raise click.UsageError(f"{target} exists already. Choose another name, or replace it with --force.")


def write(target: Path, content: str | bytes, more: str = "", quiet: bool = False) -> None:
    """Write the whole file or none of it, and say so, and `more` after it, unless `quiet`. A missing folder is made.

    Raises:
        NotWritten: the folder or a file of bytes cannot be written.
        StoreError: a file of text cannot be written.
    """
    from tui import store

    _make_folder(target)
    if isinstance(content, str):
        store.save(target, content)
    else:
        _write_bytes(target, content)
    if not quiet:
        click.echo(f"{target} is written.{more and ' ' + more}")


def _make_folder(target: Path) -> None:
    folder = target.parent
    if folder.is_dir():
        return
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise NotWritten(str(target), f"the folder {folder} cannot be made ({_reason(error)})") from None
    click.echo(f"{folder} is a new folder.", err=True)


def _write_bytes(target: Path, content: bytes) -> None:
    whole = target.with_name(f".{target.name}.writing")
    try:
        whole.write_bytes(content)
        whole.replace(target)
    except OSError as error:
        whole.unlink(missing_ok=True)
        raise NotWritten(str(target), _reason(error)) from None


def _reason(error: OSError) -> str:
    return (error.strerror or "it cannot be written").lower()
