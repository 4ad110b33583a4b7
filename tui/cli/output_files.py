"""Files that a command writes: never over another one unasked, in a folder that is made, whole or not at all."""

from pathlib import Path

import click

from tui.persistence.files import StoreError, reason, save


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
        StoreError: the folder cannot be made, or the file cannot be written.
    """
    _make_folder(target)
    save(target, content)
    if not quiet:
        click.echo(f"{target} is written.{more and ' ' + more}")


def _make_folder(target: Path) -> None:
    folder = target.parent
    if folder.is_dir():
        return
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        found = f"the folder {folder} cannot be made ({reason(error)})"
        raise StoreError(target, found, "choose another folder or name") from None
    click.echo(f"{folder} is a new folder.", err=True)
