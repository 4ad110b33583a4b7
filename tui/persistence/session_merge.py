"""What another program left in the files, taken up into the rehearsal: both sides' decisions kept, undo included."""

from dataclasses import replace

from engine.song.model import SetList
from tui.persistence.merging import Choose, Clash, Songs, Value, changes, merged
from tui.session.rehearsal import Moment, Rehearsal, remember
from tui.session.song_names import Name, named


def taken_up(
    now: Rehearsal, base: Songs, fresh: SetList, choose: Choose, decided: frozenset[Value]
) -> tuple[Rehearsal, tuple[Clash, ...]]:
    """Return the rehearsal of the set as the file has it now, with what was decided here; or the clashes still open.

    Undo then takes back what was decided here, and never what the other program did.
    """
    both = merged(base, now.set_list, fresh, choose, decided)
    if both.clashes:
        return now, both.clashes
    ours = merged(base, now.set_list, fresh, lambda clash: True, decided)
    past = tuple(_with_theirs(moment, base, fresh) for moment in now.past)
    future = tuple(_with_theirs(moment, base, fresh) for moment in now.future)
    kept = _at_same_song(replace(now, past=past, future=future), ours.set_list)
    if changes(ours.set_list.songs, both.set_list.songs):
        kept = remember(kept, "the choice between yours and the file's")
    return _at_same_song(kept, both.set_list), ()


def _with_theirs(moment: Moment, base: Songs, fresh: SetList) -> Moment:
    both = merged(base, moment.set_list, fresh, lambda clash: True).set_list
    song = _index(_name(moment.set_list, moment.song), moment.song, both)
    return replace(moment, set_list=both, song=song)


def _at_same_song(now: Rehearsal, set_list: SetList) -> Rehearsal:
    """Return the rehearsal with another version of its set; the open song stays open where it is still there."""
    name = _name(now.set_list, now.song)
    song = _index(name, now.song, set_list)
    same = name in named(set_list.songs)
    return replace(now, set_list=set_list, song=song, step=now.step if same else 0, loop=now.loop if same else None)


def _name(set_list: SetList, song: int) -> Name | None:
    return list(named(set_list.songs))[song] if song < len(set_list.songs) else None


def _index(name: Name | None, song: int, set_list: SetList) -> int:
    names = list(named(set_list.songs))
    return names.index(name) if name in names else min(song, max(len(names) - 1, 0))
