"""What is open on the stand, as one frozen value, and everything a key press can make of it.

Each function takes a rehearsal and returns another; none touches a screen, a file or a clock. Steps of a song
count from 0; the place behind the last step (`step == len(steps)`) is the end, where the next song is announced.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace

from engine.errors import EngineError
from engine.song.model import SetList, SetSong, Song, Step
from tui.steps import bars_before, bracketed, last_of_section, section_names, section_passes, section_start

Unfold = Callable[[Song], tuple[Step, ...]]

LAYOUTS = ("player", "leader", "split")
UNDO_DEPTH = 200
TEMPO = (20.0, 400.0)
"""Slowest and fastest tempo that is taken, in beats of the song file a minute."""


@dataclass(eq=False)
class NotThere(EngineError):
    """A place or a value that this song does not have, in words for the player."""

    words: str

    def __str__(self) -> str:
        return self.words


@dataclass(frozen=True, slots=True)
class Moment:
    """What undo brings back, and in `words` what was done after it."""

    songs: tuple[SetSong, ...]
    song: int
    step: int
    words: str


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """The set as it stands now and where in it we are.

    `cued`: the cue to leave the vamp has been given. `loop`: first and last step that are played round and round.
    `walked`: the files of the songs that were played to their end.
    """

    set_list: SetList
    song: int = 0
    step: int = 0
    cued: bool = False
    loop: tuple[int, int] | None = None
    layout: str = "player"
    locked: bool = False
    walked: frozenset[str] = frozenset()
    past: tuple[Moment, ...] = ()
    future: tuple[Moment, ...] = ()

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
    for index in range(len(now.songs)) if whole else (song,):
        now = unfolded(now, unfold, index)
    return replace(now, step=min(max(step, 0), len(now.steps)))


def unfolded(now: Rehearsal, unfold: Unfold, index: int) -> Rehearsal:
    """Return the same place with one song unfolded, if it is not yet and there is such a song."""
    if index >= len(now.songs) or now.songs[index].steps:
        return now
    place = replace(now.songs[index], steps=unfold(now.songs[index].song))
    songs = (*now.songs[:index], place, *now.songs[index + 1 :])
    return replace(now, set_list=replace(now.set_list, songs=songs))


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
        return to_step(now, 0, "top")
    return open_song(now, now.song - 1)


def open_song(now: Rehearsal, song: int) -> Rehearsal:
    """Return the top of another song (index from 0).

    Raises:
        NotThere: there is no such song.
    """
    if not 0 <= song < len(now.songs):
        raise NotThere("that was the last song of the set" if song > 0 else "this is the first song of the set")
    kept = remember(now, f"song {song + 1}")
    return replace(kept, song=song, step=0, cued=False, loop=None)


def find_song(now: Rehearsal, typed: str) -> tuple[int, ...]:
    """Return the songs whose title holds what was typed, those that begin with it first; a number is a place."""
    wanted = typed.strip().casefold()
    if not wanted:
        return ()
    if wanted.isdigit():
        number = int(wanted)
        return (number - 1,) if 1 <= number <= len(now.songs) else ()
    titles = [place.song.title.casefold() for place in now.songs]
    found = [index for index, title in enumerate(titles) if wanted in title]
    return tuple(sorted(found, key=lambda index: (not titles[index].startswith(wanted), index)))


# Places in a song


def to_step(now: Rehearsal, step: int, words: str) -> Rehearsal:
    """Return a jump to a step of this song, remembered for undo."""
    kept = remember(now, words)
    return replace(kept, step=min(max(step, 0), len(now.steps)), cued=False)


def top(now: Rehearsal) -> Rehearsal:
    """Return the first chord of the song."""
    return to_step(now, 0, "top")


def to_section(now: Rehearsal, name: str, bars_early: int = 0) -> Rehearsal:
    """Return the start of a section, or `bars_early` bars before it. Asked for again at its start: its next pass.

    Raises:
        NotThere: no such section in this song.
    """
    starts = section_passes(now.steps, name)
    if not starts:
        raise NotThere(f"no section {name} in this song: {', '.join(section_names(now.steps))}")
    goals = [bars_before(now.steps, start, bars_early) for start in starts]
    place = goals.index(now.step) + 1 if now.step in goals else 0
    words = f"{bars_early} bars before {name}" if bars_early else name
    return to_step(now, goals[place % len(goals)], words)


def neighbour_section(now: Rehearsal, direction: int) -> Rehearsal:
    """Return the start of the section after (`direction` 1) or before (-1) this one; back first finds its own start."""
    starts = [index for index, step in enumerate(now.steps) if step.section_start]
    if direction > 0:
        goal = next((start for start in starts if start > now.step), None)
    else:
        goal = next((start for start in reversed(starts) if start < now.step), None)
    if goal is None:
        raise NotThere("that is the last section" if direction > 0 else "this is the top of the song")
    return to_step(now, goal, now.steps[goal].section)


def back_bars(now: Rehearsal, bars: int) -> Rehearsal:
    """Return the start of the bar `bars` bars before this one (0: this bar again)."""
    return to_step(now, bars_before(now.steps, now.step, bars), f"{bars} bars back")


def to_bar(now: Rehearsal, bar: int) -> Rehearsal:
    """Return a bar of the section being played, counted from 1.

    Raises:
        NotThere: the section has fewer bars.
    """
    anchor = min(now.step, len(now.steps) - 1)
    start = section_start(now.steps, anchor) if now.steps else 0
    for index in range(start, len(now.steps)):
        if index > start and now.steps[index].section_start:
            break
        if now.steps[index].bar == bar:
            return to_step(now, index, f"bar {bar}")
    raise NotThere(f"no bar {bar} in this section")


def last_ending(now: Rehearsal) -> Rehearsal:
    """Return the start of the last ending bracket of the song; without brackets, of its last section."""
    if now.here is None:
        return now
    brackets = bracketed(now.here.song)
    inside = [(step.section, step.bar) in brackets for step in now.steps]
    entered = [not before or step.section_start for before, step in zip([False, *inside], now.steps, strict=False)]
    starts = [index for index, held in enumerate(inside) if held and entered[index]]
    sections = [index for index, step in enumerate(now.steps) if step.section_start]
    goal = starts[-1] if starts else sections[-1] if sections else 0
    return to_step(now, goal, "last ending")


# Undo


def remember(now: Rehearsal, words: str) -> Rehearsal:
    """Return the same rehearsal with this moment kept for undo; what could be redone is forgotten."""
    moment = Moment(now.songs, now.song, now.step, words)
    return replace(now, past=(*now.past[-UNDO_DEPTH + 1 :], moment), future=())


def undo(now: Rehearsal) -> Rehearsal:
    """Take back the last jump, change of key or tempo, note, pin or order.

    Raises:
        NotThere: nothing to take back.
    """
    if not now.past:
        raise NotThere("nothing to undo")
    moment = now.past[-1]
    kept = Moment(now.songs, now.song, now.step, moment.words)
    return replace(_restored(now, moment), past=now.past[:-1], future=(*now.future, kept))


def redo(now: Rehearsal) -> Rehearsal:
    """Do again what was undone.

    Raises:
        NotThere: nothing to do again.
    """
    if not now.future:
        raise NotThere("nothing to redo")
    moment = now.future[-1]
    kept = Moment(now.songs, now.song, now.step, moment.words)
    return replace(_restored(now, moment), past=(*now.past, kept), future=now.future[:-1])


def _restored(now: Rehearsal, moment: Moment) -> Rehearsal:
    songs = replace(now.set_list, songs=moment.songs)
    loop = now.loop if moment.song == now.song else None
    return replace(now, set_list=songs, song=moment.song, step=moment.step, cued=False, loop=loop)


# Changes for tonight


def with_song(now: Rehearsal, index: int, song: Song, unfold: Unfold, words: str) -> Rehearsal:
    """Return the set with one song changed for tonight; the place in the open song stays."""
    kept = remember(now, words)
    place = replace(now.songs[index], song=song, steps=unfold(song))
    songs = (*now.songs[:index], place, *now.songs[index + 1 :])
    step = min(now.step, len(place.steps)) if index == now.song else now.step
    return replace(kept, set_list=replace(now.set_list, songs=songs), step=step)


def with_tempo(now: Rehearsal, tempo: float) -> Rehearsal:
    """Return the open song at another tempo (beats of the song file a minute).

    Raises:
        NotThere: slower or faster than anybody plays.
    """
    if now.here is None:
        raise NotThere("no song is open")
    if not TEMPO[0] <= tempo <= TEMPO[1]:
        raise NotThere(f"a tempo lies between {TEMPO[0]:g} and {TEMPO[1]:g}")
    song = replace(now.here.song, tempo=tempo)
    # The steps do not depend on the tempo, so the plan made for them stays good.
    return with_song(now, now.song, song, lambda _: now.steps, f"tempo {tempo:g}")


def with_order(now: Rehearsal, songs: tuple[SetSong, ...], open_place: SetSong | None, words: str) -> Rehearsal:
    """Return the set with its songs in another order, or with more or fewer of them; `open_place` is open after it."""
    kept = remember(now, words)
    index = next((i for i, place in enumerate(songs) if place is open_place), min(now.song, max(len(songs) - 1, 0)))
    same = open_place is not None and open_place is now.here
    step = now.step if same else 0
    loop = now.loop if same else None
    return replace(kept, set_list=replace(now.set_list, songs=songs), song=index, step=step, loop=loop)


def moved_song(now: Rehearsal, index: int, direction: int) -> Rehearsal:
    """Return the set with a song one place earlier (-1) or later (1).

    Raises:
        NotThere: it is at that end already.
    """
    goal = index + direction
    if not 0 <= goal < len(now.songs):
        raise NotThere("it is there already")
    songs = list(now.songs)
    songs.insert(goal, songs.pop(index))
    return with_order(now, tuple(songs), now.here, f"move {now.songs[index].song.title}")


def dropped_song(now: Rehearsal, index: int) -> Rehearsal:
    """Return the set without a song.

    Raises:
        NotThere: it is the only one.
    """
    if len(now.songs) <= 1:
        raise NotThere("a set needs one song at least")
    songs = now.songs[:index] + now.songs[index + 1 :]
    still = now.here if index != now.song else None
    return with_order(now, songs, still, f"drop {now.songs[index].song.title}")


def looped(now: Rehearsal, first: int, last: int) -> Rehearsal:
    """Return the same place with a loop from one step to another, in either order."""
    return replace(now, loop=(min(first, last), max(first, last)))


def unlooped(now: Rehearsal) -> Rehearsal:
    """Return the same place without a loop."""
    return replace(now, loop=None)
