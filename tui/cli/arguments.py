"""What the arguments of a command stand for: a set opened, the songs asked for, a request of the planner."""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from engine.errors import EngineError
from tui.session.rehearsal import NotThere
from tui.session.song_numbers import index_of

if TYPE_CHECKING:
    from engine.planning.model import Request
    from engine.song.model import SetList, Song
    from tui.persistence.player import Player

_PLAYER = "stillhand.player"
"""Where a command keeps the player's settings."""


def opened(file: Path, number: int | None) -> "SetList":
    """Return a set, or a song as a set of one; `number` is a song that has to be in it, counted from 1.

    Raises:
        StoreError: the file cannot be read.
        ChartError: it has faults.
        click.UsageError: the set does not have the song.
    """
    from tui.persistence import store

    set_list = store.open_set(file)
    if number is not None:
        check_song_number(number, set_list)
    return set_list


def check_song_number(number: int, set_list: "SetList") -> int:
    """Return which of the songs that open has a number, counted as the set is written.

    Raises:
        click.UsageError: the set does not have it, or it does not open.
    """
    try:
        return index_of(set_list, number)
    except NotThere as fault:
        raise click.UsageError(f"{fault}.") from None


def songs(set_list: "SetList", number: int | None) -> "list[Song]":
    """Return the songs that open, or the one of a number."""
    if number is not None:
        return [set_list.songs[check_song_number(number, set_list)].song]
    return [place.song for place in set_list.songs]


def as_asked(song: "Song", key: str | None, tempo: float | None) -> "Song":
    """Return a song in the key and at the tempo (beats a minute) asked for, its own where None."""
    if key is not None:
        from engine.song.transposing import transpose

        song = transpose(song, key)
    return song if tempo is None else replace(song, tempo=tempo)


def request(
    song: "Song", set_list: "SetList", method: str | None, bass: bool | None, reach: float | None, hands: str
) -> "Request":
    """Return what is asked of the planner: what a command says goes before what song, set and player's settings say.

    `reach` is in millimetres, for both hands.
    """
    from engine.planning.lineup import request_for

    span = (reach, reach) if reach is not None else own_reach(set_list)
    return replace(request_for(song, set_list, span, hands, bass, _player().register), method=method or song.method)


def own_reach(set_list: "SetList") -> tuple[float, float]:
    """The reach the set gives, else the player's own (millimetres, left and right)."""
    from engine.planning.model import Request

    return set_list.reach or _player().reach or Request().reach


def _player() -> "Player":
    """Return the player's settings, read once a command; what is wrong with them is said then."""
    from tui.persistence import store

    context = click.get_current_context(silent=True)
    if context is None:
        return store.load_player()
    if _PLAYER not in context.meta:
        player = context.meta[_PLAYER] = store.load_player()
        for note in player.notes:
            click.echo(f"player.toml: {note.removeprefix('player.toml ')}", err=True)
    kept: Player = context.meta[_PLAYER]
    return kept


def check_key(key: str | None) -> None:
    """Refuse what is no key.

    Raises:
        click.UsageError: it is none.
    """
    if key is None:
        return
    from engine.theory.key import read_key

    try:
        read_key(key)
    except (ValueError, EngineError):
        raise click.UsageError(f"{key} is no key. Write it as Eb, F# or Cm.") from None


def finish(faults: bool) -> None:
    """End with exit code 1 where something was wrong."""
    if faults:
        raise click.exceptions.Exit(1)
