"""Every kind of pasted chart is played as it was meant or says what was decided, and no line is lost in silence."""

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.errors import EngineError
from engine.formats.chart_text.reader import song_from_text
from engine.formats.import_result import Imported
from engine.song.unfolding import unfold
from tests.engine.formats.chart_text.kinds import KINDS, Kind

ODD = [
    "see you at the quay", "Ruth sings this one", "Key: D", "key of E flat", "Title: Second Name", "108 bpm",
    "tempo: fast", "capo 2", "feel: bossa", "count: many", "x2", "2x", "(softly)", "{Bridge}", "D.S. al Fine", "Fine",
    "Repeat Bridge",
    "Form: Verse Nowhere", "Am", "Am  F", "1 4 5", "%", "/ / /", "| |", "|", "| Hm |", "| x |", "3/4", "N.C.",
    "# a remark",
    "Chorus", "A", "Verse 2 (drums only)", "Outro: Am - F", "> and thanks", "e|--0--|", "[G]gulls and [D]geese",
    "To Coda",
]  # fmt: skip

OTHERS = sorted({line for kind in KINDS.values() for line in kind.text.splitlines() if line.strip()}) + ODD
LINES = [line for line in OTHERS if not re.search("[ck]apo", line, re.IGNORECASE)]
"""Lines of charts of every kind; a capo would give all chords other names."""


def played(song: Imported) -> str:
    parts: list[tuple[str, list[str]]] = []
    for step in unfold(song.song):
        if step.section_start:
            parts.append((step.section, []))
        parts[-1][1].append(step.symbol)
    return "; ".join(f"{name}: {' '.join(chords)}" for name, chords in parts)


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_every_kind_is_played_as_it_was_meant_and_says_what_was_decided(kind: Kind):
    found = song_from_text(kind.text)
    assert played(found) == kind.played
    doubts = "\n".join(found.doubts)
    assert not [words for words in kind.doubts if words not in doubts]
    assert {name: str(getattr(found.song, name)) for name, _ in kind.facts} == dict(kind.facts)


SIGNS = set(re.findall(r"\S+", "segno sign fine dc ds al coda to on cue till until x 2x x2 kapo iii"))
"""Words that are signs of the form, times or a capo: what they mean is in the order or the key, not in letters."""


OF_DOUBTS = set(
    re.findall(
        r"\S+", "the at in of and was were is no key tempo as bar bars line lines read left out written taken it"
    )
)
"""Words that doubts have of their own."""


def silent(text: str, found: Imported) -> list[str]:
    """Return the lines of which nothing is found again: no word of them in the song, no doubt of that line or with its
    words. Lines without letters and figures say nothing of their own."""
    told = set(words_of(found.text)) - {
        "title",
        "key",
        "meter",
        "tempo",
        "feel",
        "count",
        "bars",
        "sections",
        "roadmap",
    }
    told |= set(words_of("\n".join(found.doubts))) - OF_DOUBTS
    numbers = re.findall(r"(?:\bline |: |, )(\d+)[: ]", "\n".join(found.doubts))
    lost = []
    for number, line in enumerate(text.splitlines(), 1):
        words = set(words_of(line)) - SIGNS
        if words and str(number) not in numbers and not words & told:
            lost.append(line)
    return lost


def words_of(text: str) -> list[str]:
    text = re.sub(r"\bd\.\s?([cs])\.", r"d\1", text.lower()).replace("♯", "#").replace("♭", "b")
    text = text.replace(" flat", "b").replace(" sharp", "#")
    return re.findall(r"[^\W_]+#?", text)


@pytest.mark.parametrize("kind", KINDS.values(), ids=KINDS)
def test_no_line_of_any_kind_is_lost_in_silence(kind: Kind):
    assert silent(kind.text, song_from_text(kind.text)) == []


@given(st.lists(st.sampled_from(LINES), min_size=1, max_size=9))
@settings(max_examples=400, deadline=None)
def test_no_line_of_any_text_is_lost_in_silence(lines: list[str]):
    text = "\n".join(lines)
    try:
        found = song_from_text(text)
    except EngineError:
        return
    assert silent(text, found) == []
