"""What the fingers do, in words a player uses."""

from engine.planning.model import PlannedNote, PlannedStep

STEPS = ("", "half step", "whole step", "minor third", "major third", "fourth", "tritone", "fifth", "minor sixth",
"major sixth",
         "minor seventh", "major seventh", "octave")  # fmt: skip
"""Semitones -> how a player calls the distance."""


def moves_in_words(step: PlannedStep, hand: str) -> str:
    """Return one sentence for a hand ("left" or "right"): "thumb stays; 5 slides down a whole step onto Bb3".

    What stays comes first, then what slides, passes to another finger, lands and lifts. "rests" for a hand without
    keys.
    """
    notes = step.left if hand == "left" else step.right
    gone = step.lifted_left if hand == "left" else step.lifted_right
    if not notes and not gone:
        return "rests"
    staying = [_name(note.finger) for note in notes if note.move == "hold"]
    said = [f"{_listed(staying)} {'stays' if len(staying) == 1 else 'stay'}"] if staying else []
    said += [_slides(note) for note in notes if note.move == "slide"]
    said += [f"{_name(note.finger)} takes over {note.name}" for note in notes if note.move == "refinger"]
    landing = [note for note in notes if note.move == "press"]
    said += [f"{_name(note.finger)} lands on {note.name}" for note in landing]
    if gone:
        said.append(f"{_listed([_name(finger) for finger, _ in gone])} {'lifts' if len(gone) == 1 else 'lift'}")
    return "; ".join(said)


def distance(semitones: int) -> str:
    """Return a distance in words, "2 octaves and a fifth" for far ones; semitones above 0."""
    octaves, rest = divmod(semitones, 12)
    if octaves == 0 or semitones == 12:
        return _article(STEPS[semitones])
    far = "an octave" if octaves == 1 else f"{octaves} octaves"
    return far if not rest else f"{far} and {_article(STEPS[rest])}"


def _slides(note: PlannedNote) -> str:
    semitones = note.key - (note.left_from or note.key)
    way = "up" if semitones > 0 else "down"
    return f"{_name(note.finger)} slides {way} {distance(abs(semitones))} onto {note.name}"


def _name(finger: int) -> str:
    return "thumb" if finger == 1 else str(finger)


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]


def _article(words: str) -> str:
    return f"an {words}" if words[0] in "aeiou" else f"a {words}"
