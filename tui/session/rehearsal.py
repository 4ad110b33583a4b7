"""What is open on the stand, as one frozen value: stepping through it, and from song to song.

Where to start again stands in `navigation`, what is changed for tonight in `decisions`, undo in `changes`.

Each function takes a rehearsal and returns another; none touches a screen, a file or a clock. Steps of a song
count from 0; the place behind the last step (`step == len(steps)`) is the end, where the next song is announced.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from engine.errors import EngineError
from engine.song.model import SetList, SetSong, Song, Step
from tui.session.file_edits import Edit
from tui.session.song_names import Name, Spot, named
from tui.session.steps import last_of_section, same_place, section_start

Unfold = Callable[[Song], tuple[Step, ...]]

LAYOUTS = ("player", "leader", "split")


@dataclass(eq=False)
class NotThere(EngineError):
    """A place or a value that this song does not have, in words for the player."""

    words: str

    def __str__(self) -> str:
        return self.words


@dataclass(frozen=True, slots=True, eq=False)
class Version:
    """The set as it stands between two changes, where we were in it, and what is written anew in songs' own files."""

    set_list: SetList
    song: int
    step: int
    edits: tuple[Edit, ...]


@dataclass(frozen=True, slots=True, eq=False)
class Change:
    """Something that was decided, in words, with the set before and after it."""

    words: str
    before: Version
    after: Version


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """The set as it stands now and where in it we are.

    `cued`: the cue to leave the vamp has been given. `loop`: first and last step that are played round and round.
    `walked`: the files of the songs that were played to their end. `edits`: what was written anew in songs' own files.
    `log`: what was decided, the last change last; `undone`: what can be done again, the next one last.
    `left`: where we played before the last jump, `landed`: where that jump went.
    """

    set_list: SetList
    song: int = 0
    step: int = 0
    cued: bool = False
    loop: tuple[int, int] | None = None
    layout: str = "player"
    locked: bool = False
    walked: frozenset[str] = frozenset()
    edits: tuple[Edit, ...] = ()
    log: tuple[Change, ...] = ()
    undone: tuple[Change, ...] = ()
    left: Spot | None = None
    landed: Spot | None = None

    @property
    def songs(self) -> tuple[SetSong, ...]:
        return self.set_list.songs

    @property
    def here(self) -> SetSong | None:
        """The open song, None in an empty set."""
        return self.songs[self.song] if self.songs else None

    @property
    def steps(self) -> tuple[Step, ...]:
        return self.songs[self.song].steps if self.songs else ()

    @property
    def now(self) -> Step | None:
        """The step being played, None at the end."""
        return self.steps[self.step] if self.step < len(self.steps) else None

    @property
    def at_end(self) -> bool:
        return self.step >= len(self.steps)

    @property
    def coming(self) -> int | None:
        """The index of the step that forward would bring, None when that is the end."""
        following = forward(self).step if not self.at_end else self.step
        return following if following < len(self.steps) else None

    @property
    def waiting(self) -> bool:
        """True inside a vamp whose cue has not been given."""
        return self.now is not None and bool(self.now.until) and not self.cued


def opened(set_list: SetList, unfold: Unfold, song: int = 0, step: int = 0, whole: bool = True) -> Rehearsal:
    """Return a rehearsal of a set at a place; one outside it becomes the nearest inside.

    Every song is unfolded, or with `whole` False the open one alone: the others can wait until it is on the screen.
    """
    song = min(max(song, 0), max(len(set_list.songs) - 1, 0))
    now = Rehearsal(set_list, song)
    now = all_unfolded(now, unfold) if whole else unfolded(now, unfold, song)
    return replace(now, step=min(max(step, 0), len(now.steps)))


def unfolded(now: Rehearsal, unfold: Unfold, index: int) -> Rehearsal:
    """Return the same place with one song unfolded, if it is not yet and there is such a song."""
    if index >= len(now.songs) or now.songs[index].steps:
        return now
    place = replace(now.songs[index], steps=unfold(now.songs[index].song))
    songs = (*now.songs[:index], place, *now.songs[index + 1 :])
    return replace(now, set_list=replace(now.set_list, songs=songs))


def all_unfolded(now: Rehearsal, unfold: Unfold) -> Rehearsal:
    """Return the same place with every song unfolded that is not yet."""
    for index in range(len(now.songs)):
        now = unfolded(now, unfold, index)
    return now


# Stepping


def forward(now: Rehearsal) -> Rehearsal:
    """Return one chord further: round a loop or a vamp that waits for its cue, at the end into the next song."""
    if now.at_end:
        return next_song(now) if now.song + 1 < len(now.songs) else now
    if now.loop and now.step == now.loop[1]:
        return replace(now, step=now.loop[0])
    step = now.steps[now.step]
    if now.waiting and last_of_section(now.steps, now.step):
        return replace(now, step=section_start(now.steps, now.step))
    further = now.step + 1
    leaves = further >= len(now.steps) or now.steps[further].section_start
    moved = replace(now, step=further, cued=now.cued and not (leaves and step.until))
    here = now.here
    return replace(moved, walked=now.walked | {here.file}) if moved.at_end and here else moved


def back(now: Rehearsal) -> Rehearsal:
    """Return one chord earlier; before the first one there is nothing."""
    return replace(now, step=max(now.step - 1, 0), cued=False)


def cue(now: Rehearsal) -> Rehearsal:
    """Give or take back the cue: the vamp is left when its round is through.

    Raises:
        NotThere: no vamp is being played.
    """
    if now.now is None or not now.now.until:
        raise NotThere("no vamp here that waits for a cue")
    return replace(now, cued=not now.cued)


# Songs


def next_song(now: Rehearsal) -> Rehearsal:
    """Return the top of the next song.

    Raises:
        NotThere: this is the last one.
    """
    return open_song(now, now.song + 1)


def previous_song(now: Rehearsal) -> Rehearsal:
    """Return the top of this song, or of the one before when we are at the top already."""
    if now.step > 0 or now.song == 0:
        return jumped(now, now.song, 0)
    return open_song(now, now.song - 1)


def open_song(now: Rehearsal, song: int) -> Rehearsal:
    """Return the top of another song (index from 0).

    Raises:
        NotThere: there is no such song.
    """
    if not 0 <= song < len(now.songs):
        raise NotThere("that was the last song of the set" if song > 0 else "this is the first song of the set")
    return jumped(now, song, 0)


def find_song(now: Rehearsal, typed: str) -> tuple[int, ...]:
    """Return the songs whose title holds what was typed, those that begin with it first; a number is the song's."""
    wanted = typed.strip().casefold()
    if not wanted:
        return ()
    if wanted.isdigit():
        number = int(wanted)
        return tuple(index for index, place in enumerate(now.songs) if (place.number or index + 1) == number)
    titles = [place.song.title.casefold() for place in now.songs]
    found = [index for index, title in enumerate(titles) if wanted in title]
    return tuple(sorted(found, key=lambda index: (not titles[index].startswith(wanted), index)))


# Jumps


def jumped(now: Rehearsal, song: int, step: int) -> Rehearsal:
    """Return another place; the one left is kept. Jumps with no chord played between them count as one."""
    goal = replace(now, song=song, step=step, cued=False, loop=now.loop if song == now.song else None)
    if (song, step) == (now.song, now.step):
        return goal
    here = _spot(now)
    return replace(goal, left=now.left if now.left and here == now.landed else here, landed=_spot(goal))


def returned(now: Rehearsal) -> Rehearsal:
    """Return the place where we played before the last jump; once more goes there and back.

    Raises:
        NotThere: there was no jump, or its song has left the set.
    """
    if now.left is None:
        raise NotThere("no jump yet to come back from")
    names = list(named(now.songs))
    if now.left.name not in names:
        raise NotThere("the song you jumped from is no longer in the set")
    song = names.index(now.left.name)
    loop = now.loop if song == now.song else now.left.loop
    there = replace(now, song=song, step=now.left.step, cued=False, loop=loop, left=_spot(now), landed=None)
    return within(there)


def within(now: Rehearsal) -> Rehearsal:
    """Return the rehearsal at a place that the open song has: behind its end is its end, and a loop there is none."""
    count = len(now.steps)
    if not count or (now.step <= count and (now.loop is None or now.loop[1] < count)):
        return now
    return replace(now, step=min(now.step, count), loop=now.loop if now.loop and now.loop[1] < count else None)


def found_again(now: Rehearsal, old: tuple[Step, ...]) -> Rehearsal:
    """Return the rehearsal with the place and the loop, which count in `old` steps of the open song, in those it has
    now; one that is not unfolded yet is taken for the same."""
    if not now.steps or not old:
        return within(now)
    loop = now.loop and (same_place(old, now.loop[0], now.steps), same_place(old, now.loop[1], now.steps))
    return within(replace(now, step=same_place(old, now.step, now.steps), loop=loop))


def name_here(now: Rehearsal) -> Name | None:
    """Return the name of the open song, None in an empty set."""
    return list(named(now.songs))[now.song] if now.songs else None


def _spot(now: Rehearsal) -> Spot | None:
    name = name_here(now)
    return Spot(name, now.step, now.loop) if name else None
