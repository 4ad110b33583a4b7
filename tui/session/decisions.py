"""What is decided for tonight: key, tempo, notes and pins of a song, and the order of the set.

Each function takes a rehearsal and returns another, with the change in its log.
"""

from dataclasses import replace
from typing import Any

from engine.planning.model import PlannedStep
from engine.song.fields import LONGEST_NAME
from engine.song.model import Pin, SetSong, Song
from engine.song.section_tempo import FASTEST, SLOWEST
from tui.session.bar_notes import is_bar_note
from tui.session.changes import logged
from tui.session.manner_words import MANNER_WORDS
from tui.session.rehearsal import NotThere, Rehearsal, Unfold
from tui.session.song_numbers import gaps, renumbered


def with_song(now: Rehearsal, index: int, song: Song, unfold: Unfold, words: str) -> Rehearsal:
    """Return the set with one song changed for tonight; the place in the open song stays."""
    place = replace(now.songs[index], song=song, steps=unfold(song))
    songs = (*now.songs[:index], place, *now.songs[index + 1 :])
    step = min(now.step, len(place.steps)) if index == now.song else now.step
    return logged(now, replace(now, set_list=replace(now.set_list, songs=songs), step=step), words)


def with_order(now: Rehearsal, songs: tuple[SetSong, ...], open_place: SetSong | None, words: str) -> Rehearsal:
    """Return the set with its songs in another order, or with more or fewer of them; `open_place` is open after it."""
    index = next((i for i, place in enumerate(songs) if place is open_place), min(now.song, max(len(songs) - 1, 0)))
    kept_songs = set(map(id, songs))
    gone = [place.number for place in now.songs if id(place) not in kept_songs]
    songs = renumbered(songs, now.set_list, gone[0] if gone else 0)
    same = open_place is not None and open_place is now.here
    step = now.step if same else 0
    loop = now.loop if same else None
    moved = replace(now, set_list=replace(now.set_list, songs=songs), song=index, step=step, loop=loop)
    return logged(now, moved, words)


def moved_song(now: Rehearsal, index: int, direction: int) -> Rehearsal:
    """Return the set with a song one place earlier (-1) or later (1).

    Raises:
        NotThere: it is at that end already.
    """
    goal = index + direction
    if not 0 <= goal < len(now.songs):
        raise NotThere("the song stands at that end already")
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


def dropped_unopened(now: Rehearsal, number: int) -> Rehearsal:
    """Return the set without the song of this number, which does not open.

    Raises:
        NotThere: there is no such song.
    """
    there = gaps(now.set_list)
    if number not in there:
        raise NotThere(f"there is no song {number} that does not open")
    place = there.index(number)
    missing = now.set_list.missing
    songs = tuple(replace(one, number=one.number - (one.number > number)) for one in now.songs)
    kept = replace(now.set_list, songs=songs, missing=missing[:place] + missing[place + 1 :])
    return logged(now, replace(now, set_list=kept), f"drop {missing[place][0]}")


def transposed(now: Rehearsal, index: int, key: str, unfold: Unfold) -> Rehearsal:
    """Return the rehearsal with a song in another key for tonight; the same one where it is in that key.

    Raises:
        EngineError: it cannot be put there.
    """
    from engine.song.transposing import transpose

    song = now.songs[index].song
    if key == song.key:
        return now
    moved = transpose(song, key)
    return with_song(now, index, moved, unfold, f"key {song.key} to {key}, {song.title}")


def retimed(now: Rehearsal, index: int, tempo: float) -> Rehearsal:
    """Return the rehearsal with a song at another tempo (beats of the song file a minute).

    Raises:
        NotThere: slower or faster than anybody plays.
    """
    if not SLOWEST <= tempo <= FASTEST:
        raise NotThere(f"a tempo lies between {SLOWEST:g} and {FASTEST:g}")
    place = now.songs[index]
    words = f"tempo {place.song.tempo:g} to {tempo:g}, {place.song.title}"
    # The steps do not depend on the tempo, so the plan made for them stays good.
    return with_song(now, index, replace(place.song, tempo=tempo), lambda _: place.steps, words)


def played(now: Rehearsal, index: int, name: str, value: str, unfold: Unfold) -> Rehearsal:
    """Return the rehearsal with a song played otherwise tonight: `name` is one of `engine.song.model.MANNER`."""
    place = now.songs[index]
    old = getattr(place.song, name)
    words = f"{MANNER_WORDS[name]} {old or 'held'} to {value}, {place.song.title}"
    changed: dict[str, Any] = {name: value}
    song = replace(place.song, **changed)
    # Only rhythm and pattern stand in the steps.
    return with_song(now, index, song, unfold if name in ("comp", "left_hand") else lambda _: place.steps, words)


def part_played(now: Rehearsal, index: int, section: str, name: str, value: str, unfold: Unfold) -> Rehearsal:
    """Return the rehearsal with one section of a song played otherwise tonight; "" is as the song is."""
    from engine.song.parts import with_part

    song = now.songs[index].song
    words = f"{section}: {MANNER_WORDS[name]} {value or 'as the song'}, {song.title}"
    return with_song(now, index, with_part(song, section, name, value), unfold, words)


def accompanied(now: Rehearsal, name: str, value: bool | tuple[str, ...]) -> Rehearsal:
    """Return the rehearsal with another band: `name` is one of `tui.session.band.BAND`."""
    said = ("yes" if value else "no") if isinstance(value, bool) else ", ".join(value) or "none"
    changed: dict[str, Any] = {name: value}
    return logged(now, replace(now, set_list=replace(now.set_list, **changed)), f"{name}: {said}")


def titled(now: Rehearsal, title: str) -> Rehearsal:
    """Return the rehearsal with another title of the set.

    Raises:
        NotThere: there is nothing to read in it.
    """
    title = " ".join(title.split())
    if not title or not title.isprintable() or len(title) > LONGEST_NAME:
        raise NotThere("write a title in one line")
    return logged(now, replace(now, set_list=replace(now.set_list, title=title)), f"title {title}")


def noted(now: Rehearsal, where: str, words: str) -> Rehearsal:
    """Return the rehearsal with a note; `where` is "" for the song, else `Verse bar 3`. No words: it goes."""
    place = now.here
    if place is None:
        raise NotThere("no song is open")
    lines = [line.strip() for line in place.song.note.splitlines() if line.strip()]
    if where:
        kept = [line for line in lines if not line.startswith(f"{where}:")]
        new = [f"{where}: {words.strip()}"] if words.strip() else []
    else:
        kept = [line for line in lines if is_bar_note(line)]
        new = [words.strip()] if words.strip() else []
    song = replace(place.song, note="\n".join(kept + new))
    return with_song(now, now.song, song, lambda _: place.steps, f"note, {where or song.title}")


def pin_as_planned(planned: PlannedStep) -> Pin:
    """Return the pin that keeps a step as it is planned: its keys and fingers. A left hand that plays a pattern goes
    on playing it."""
    step, left, right = planned.step, planned.left, planned.right
    return Pin(
        step.section,
        step.bar,
        step.beat,
        None if planned.strokes else tuple(note.key for note in left),
        tuple(note.key for note in right),
        () if planned.strokes else tuple(note.finger for note in left),
        tuple(note.finger for note in right),
    )


def pinned(now: Rehearsal, pin: Pin | None, section: str, bar: int, beat: Any) -> Rehearsal:
    """Return the rehearsal with a voicing pinned at a place of the open song, or with the pin there gone."""
    place = now.here
    if place is None:
        raise NotThere("no song is open")
    kept = tuple(old for old in place.song.pins if old.place != (section, bar, beat))
    song = replace(place.song, pins=kept + ((pin,) if pin else ()))
    words = f"{'pin' if pin else 'unpin'}, {section} bar {bar}"
    return with_song(now, now.song, song, lambda _: place.steps, words)
