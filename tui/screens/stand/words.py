"""What the stand says in words: the chords, the top bar, the line of the place."""

from engine.chord.numbers import number_of
from engine.practice.same_shapes import shape_words
from engine.song.model import Song, Step
from engine.song.section_tempo import tempo_of
from tui.screens.stand.view import View, two_planned
from tui.session.bar_notes import bar_place, is_bar_note
from tui.session.rehearsal import Rehearsal
from tui.widgets.lettering import pretty, written
from tui.widgets.roadmap import place_words

Horns = tuple[tuple[str, str, str], ...]
"""(horn's key, present chord as it reads it, coming chord) of each horn."""

BETWEEN = "  ·  "
"""Between two words of the place."""

Words = tuple[str, str, str, str, str, str, Horns]


def chord_words(view: View) -> Words:
    """Return (present chord, its mark, coming chord, its mark, the one after, words in its place, horns)."""
    now = view.now
    first, second = now.coming, _following(now, now.coming)
    big = ""
    if now.at_end:
        following = now.songs[now.song + 1] if now.song + 1 < len(now.songs) else None
        big = "end of the set" if following is None else following.song.title
        coming = _symbol(following.steps, 0, view.numbers) if following else ""
        return "", "", coming, "", "", big if now.songs else "no songs in this set", ()
    present = now.steps[now.step]
    coming_mark = now.steps[first].mark if first is not None else ""
    ending = "" if first is not None else "end"
    return (
        _symbol(now.steps, now.step, view.numbers),
        present.mark,
        _symbol(now.steps, first, view.numbers) or ending,
        coming_mark,
        _symbol(now.steps, second, view.numbers),
        big,
        view.horns,
    )


def _following(now: Rehearsal, index: int | None) -> int | None:
    if index is None:
        return None
    return index + 1 if index + 1 < len(now.steps) else None


def _symbol(steps: tuple[Step, ...], index: int | None, numbers: bool) -> str:
    if index is None or index >= len(steps):
        return ""
    step = steps[index]
    return number_of(step.chord, step.key) if numbers and step.chord else step.symbol


def bar_words(view: View, width: int) -> tuple[str, str, str]:
    """Return (left words, right words, role) of the top bar."""
    if view.asked is not None:
        return view.asked[0], view.asked[1], "here"
    if view.message:
        return view.message, view.lamp, "warn" if view.alarm else "here"
    place = view.now.here
    if place is None:
        return view.now.set_list.title, "", "bar"
    song = place.song
    lock = "  LOCKED" if view.now.locked else ""
    key, tempo = song_key(song, view.now.now), _tempo(song, view.now.now)
    right = f"{key}  {tempo}  {song.meter}{_feel(song, width)}{lock}  {view.lamp}"
    set_list = view.now.set_list
    return f"{set_list.numbers[view.now.song]}/{set_list.total}  {song.title}", right.rstrip(), "bar"


def song_key(song: Song, step: Step | None) -> str:
    """Return the key at a step, with the song's own where they differ (a key change inside)."""
    if step is None or step.key in ("", song.key):
        return pretty(song.key)
    return f"{pretty(step.key)} (song in {pretty(song.key)})"


def _tempo(song: Song, step: Step | None = None) -> str:
    """Return the tempo at a step, the song's own where none is given."""
    tempo = song.tempo if step is None else tempo_of(song, step)
    return f"{'♩.' if song.meter.compound else '♩'}={tempo:g}"


def _feel(song: Song, width: int) -> str:
    return f"  {song.feel}" if song.feel != "straight" and width >= 60 else ""


def words_of_place(view: View, placed: bool, horns: tuple[str, ...]) -> str:
    """Return section, bar and pass (unless they stand above in large letters), cue, vamp, notes that belong here, and
    what the horns read where that does not stand above."""
    now = view.now
    if now.at_end:
        if now.song + 1 < len(now.songs):
            following = now.songs[now.song + 1].song
            return (
                f"end of {now.songs[now.song].song.title}.  Forward opens {following.title}: "
                f"{pretty(following.key)}, {_tempo(following)}, {following.meter}, count {following.count}"
            )
        return "that was the last song of the set" if now.songs else "add songs to the set's file, or open another set"
    step = now.steps[now.step]
    parts = [place_words(now.steps, now.step)] if placed else []
    if step.until:
        parts.append("CUE GIVEN, out at the end" if now.cued else f"VAMP until {step.until}: c = cue")
    if now.loop:
        parts.append("LOOP")
    parts += [rhythm_words(view, step)] if step.comp else []
    parts += [pattern_words(view)] if step.left_hand else []
    parts += own_tune_words(view)
    if step.cue:
        parts.append(step.cue)
    place = now.here
    parts += [*notes_here(place.song.note if place else "", step), *horns]
    planned = two_planned(view)[1]
    if planned is not None and planned.warnings:
        parts.append("! " + planned.warnings[0])
    return BETWEEN.join(parts)


def with_hint(words: str, view: View, width: int) -> str:
    """Return the words of the place with what the hands hold already, where that fits into the row."""
    hint = "" if view.now.at_end else shape_words(*two_planned(view))
    return f"{words}{BETWEEN}{hint}" if hint and len(words) + len(BETWEEN) + len(hint) < width else words


def rhythm_words(view: View, step: Step) -> str:
    """Return the rhythm of a step's bar by name and as a row of signs: charleston ○─ ─● ·· ··."""
    from engine.performance.rhythm_row import rhythm_row, row_text
    from engine.performance.rhythms import rhythm_named

    rhythm, place = rhythm_named(step.comp, view.rhythms), view.now.here
    if rhythm is None or place is None:
        return step.comp
    row = rhythm_row(rhythm, step.meter, max(step.bar, 1), place.song.feel)
    return f"{step.comp} {row_text(row, view.ascii_only)}"


def pattern_words(view: View) -> str:
    """Return the left hand's pattern over the present chord with its fingers, stroke by stroke: left hand stride
    5:G2 3:F3+1:B3 5:D2 3:F3+1:B3; by name where it is not planned."""
    from engine.planning.shape_words import strokes_words

    present, _ = two_planned(view)
    step = view.now.steps[view.now.step]
    words = strokes_words(present) if present is not None else ""
    return f"left hand {step.left_hand} {pretty(words)}".rstrip()


def own_tune_words(view: View) -> list[str]:
    """Return the notes of the player's own tune over the present chord with their fingers: tune 5:G5, 4:F5; none
    where a chord has its first note alone."""
    present, _ = two_planned(view)
    if present is None or len(present.tune) < 2:
        return []
    from engine.planning.shape_words import tune_words

    return [f"tune {pretty(tune_words(present))}"]


def notes_here(note: str, step: Step) -> list[str]:
    """Return the notes for a step: those of its bar (`Verse bar 3: watch the singer`), and at the top the song's."""
    lines = [line.strip() for line in note.replace(";", "\n").splitlines() if line.strip()]
    here = f"{bar_place(step)}:"
    own = [line.removeprefix(here).strip() for line in lines if line.startswith(here)]
    whole = [line for line in lines if not is_bar_note(line)]
    return own + (whole if step.index == 0 else [])


def horn_chords(now: Rehearsal) -> Horns:
    """Return (horn's key, present chord, coming chord) as each horn of the line-up reads them."""
    if now.layout == "player" or not now.set_list.horns or now.now is None:
        return ()
    from tui.widgets.horns import read_by

    coming = now.steps[now.coming].symbol if now.coming is not None else ""
    return tuple((horn, read_by(horn, now.now.symbol), read_by(horn, coming)) for horn in now.set_list.horns)


def horn_words(horns: tuple[tuple[str, str, str], ...]) -> tuple[str, ...]:
    """Return what each horn reads, for the line below where the chords leave no room beside them."""
    return tuple(f"{pretty(key)} reads {written(now)} › {written(coming)}" for key, now, coming in horns)
