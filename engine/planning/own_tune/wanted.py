"""What the right hand has of the player's own tune while each chord is played."""

from fractions import Fraction

from engine.planning.model import OwnTune
from engine.song.model import Song, TuneNote
from engine.song.tune import LEAST_HELD, held_beats, tune_over, whose_tune
from engine.song.unfolding import unfold


def own_tune(song: Song) -> tuple[OwnTune, ...]:
    """Return what the player's own tune has over each written chord."""
    mine = {part.name for part in song.sections if part.tune and whose_tune(song, part) == "mine"}
    steps = [step for step in unfold(song) if step.section in mine] if mine else []
    found: dict[tuple[str, int, int], OwnTune] = {}
    for step, notes in zip(steps, tune_over(song, steps), strict=True):
        if notes:
            found.setdefault(step.written, OwnTune(step.written, notes))
    return tuple(found.values())


def is_held(note: TuneNote, beats: Fraction) -> bool:
    """Return whether a note counts as held over a chord of so many beats: also what sounds over more than half of a
    short one (own choice)."""
    sounds = held_beats(note, Fraction(0), beats)
    return sounds >= LEAST_HELD or 2 * sounds > beats


def after_onset(notes: tuple[TuneNote, ...], beats: Fraction) -> tuple[int, ...]:
    """Return the notes (MIDI numbers) that begin while a chord of so many beats lasts, not with it, in their order."""
    return tuple(note.note for note in begun(notes, beats) if note.onset > 0)


def begun(notes: tuple[TuneNote, ...], beats: Fraction) -> tuple[TuneNote, ...]:
    """Return the notes that begin with a chord of so many beats or while it lasts, in their order."""
    return tuple(sorted((note for note in notes if 0 <= note.onset < beats), key=lambda note: note.onset))


def at_onset(notes: tuple[TuneNote, ...]) -> int | None:
    """Return the note (MIDI number) that begins with the chord or sounds on into it, None where the tune rests; the
    highest of several."""
    sounding = [note.note for note in notes if note.onset <= 0 < note.onset + note.length]
    return max(sounding, default=None)
