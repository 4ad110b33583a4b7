"""Notes for single bars, written among a song's note: `Verse bar 3: watch the singer`."""


def is_bar_note(line: str) -> bool:
    """Tell whether a line of a note belongs to a bar."""
    head = line.partition(":")[0].split()
    return ":" in line and len(head) >= 3 and head[-2] == "bar" and head[-1].isdigit()
