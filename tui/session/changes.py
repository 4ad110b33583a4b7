"""The log of what was decided: undo and redo read it, and so does whoever brings two versions of a set together.

A change holds the set before and after it. Where the set is no longer the one that the change left (another program's
version was taken up meanwhile), only the values that the change touched go back, and only where they still are as it
left them.
"""

from dataclasses import replace

from engine.song.model import SetSong
from tui.session.band import band, with_our_band
from tui.session.merging import merged
from tui.session.rehearsal import Change, NotThere, Rehearsal, Version, found_again
from tui.session.song_names import named

UNDO_DEPTH = 200
"""Changes that can be taken back: more than a rehearsal has (own choice)."""


def logged(before: Rehearsal, after: Rehearsal, words: str) -> Rehearsal:
    """Return `after` with the change from `before` in its log; what could be redone is forgotten."""
    change = Change(words, _version(before), _version(after))
    return replace(after, log=(*before.log[-UNDO_DEPTH + 1 :], change), undone=())


def undo(now: Rehearsal) -> Rehearsal:
    """Take back the last change of key, tempo, note, pin, bar or order; where we are stays, see `returned` for jumps.

    Raises:
        NotThere: nothing to take back.
    """
    if not now.log:
        raise NotThere("nothing to undo")
    change = now.log[-1]
    back = _gone(now, change.after, change.before)
    return replace(back, log=now.log[:-1], undone=(*now.undone, change))


def redo(now: Rehearsal) -> Rehearsal:
    """Do again what was undone.

    Raises:
        NotThere: nothing to do again.
    """
    if not now.undone:
        raise NotThere("nothing to redo")
    change = now.undone[-1]
    again = _gone(now, change.before, change.after)
    return replace(again, log=(*now.log, change), undone=now.undone[:-1])


def _version(now: Rehearsal) -> Version:
    return Version(now.set_list, now.song, now.step, now.edits)


def _gone(now: Rehearsal, left: Version, wanted: Version) -> Rehearsal:
    """Return the set as `wanted`, at the bar where we are; with a song that comes back by this, or without ours, at the
    place of then. `left` is the version that the change we go back over, or do again, left behind."""
    here, there = list(named(now.songs)), list(named(wanted.set_list.songs))
    set_list = wanted.set_list
    if not _same(now.songs, left.set_list.songs):
        theirs = with_our_band(band(left.set_list), set_list, now.set_list)
        set_list = merged(left.set_list.songs, set_list, theirs, lambda clash: False).set_list
    restored = replace(now, set_list=set_list, edits=wanted.edits)
    back = wanted.song < len(there) and there[wanted.song] not in here
    found = list(named(set_list.songs))
    if back or not here or here[now.song] not in found:
        return replace(restored, song=min(wanted.song, max(len(found) - 1, 0)), step=wanted.step, loop=None, cued=False)
    again = found_again(replace(restored, song=found.index(here[now.song])), now.steps)
    return replace(again, cued=now.cued and again.now is not None and bool(again.now.until))


def _same(ours: tuple[SetSong, ...], theirs: tuple[SetSong, ...]) -> bool:
    """Tell whether two versions of a set are one, whatever of it is unfolded by now."""
    return len(ours) == len(theirs) and all(
        one.song is other.song and one.file == other.file for one, other in zip(ours, theirs, strict=True)
    )
