"""Notes for single bars, written among a song's note: `Verse bar 3: watch the singer`."""

from engine.song.model import Step


def bar_place(step: Step) -> str:
    """Name the bar of a step, as its notes begin and as it is told: Verse bar 3."""
    return f"{step.section} bar {step.bar}"


def is_bar_note(line: str) -> bool:
    """Tell whether a line of a note belongs to a bar."""
    head = line.partition(":")[0].split()
    return ":" in line and len(head) >= 3 and head[-2] == "bar" and head[-1].isdigit()
