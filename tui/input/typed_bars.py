"""How bars are read while they are typed."""

from fractions import Fraction

from engine.errors import ChartError
from engine.song.model import Song
from engine.theory.meter import beats_figure
from tui.input.prompts import Prompt
from tui.session.rehearsal import Rehearsal
from tui.widgets.lettering import written


def bar_reading(prompt: Prompt, now: Rehearsal) -> tuple[str, str]:
    """Return (how the typed bars are read, what is wrong with them); one of them is empty."""
    song = now.songs[prompt.song].song
    if prompt.kind == "bar" and "|" in prompt.typed:
        return "", "one bar at a time, without bar lines"
    if prompt.kind == "bars" and not prompt.typed.strip():
        return "chords, and | between bars", ""
    return _reading(prompt.typed, song, prompt.subject or str(song.meter))


def _reading(typed: str, song: Song, meter: str) -> tuple[str, str]:
    from engine.song.reader import song_from_chart

    try:
        read = song_from_chart(f"| {typed.strip().strip('|')} |", song.key, meter, song.tempo)
    except ChartError as error:
        fault = error.faults[0]
        # What mends it comes first: in a narrow window the end is cut.
        return "", f"{fault.hint}  ({fault.found})"
    bars = read.sections[0].bars
    if len(bars) > 1:
        return f"{len(bars)} bars", ""
    return "  ".join(f"{written(event.symbol)} {_beats(event.beats)}" for event in bars[0].events), ""


def _beats(beats: Fraction) -> str:
    return f"{beats_figure(beats)} {'beat' if beats == 1 else 'beats'}"
