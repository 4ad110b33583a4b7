"""House rules: how a chart means the symbols that players read in different ways."""

from dataclasses import dataclass

CHOICES: dict[str, tuple[str, ...]] = {
    "o": ("triad", "dim7"),
    "two": ("add9", "no third"),
    "sus": ("triad", "9sus"),
    "plus": ("#5", "maj7"),
    "maj": ("triad", "maj7"),
    "names": ("english", "german", "solfege"),
}
"""Rule -> what it may say, the default first."""

READ_AS: dict[tuple[str, str], str] = {
    ("o", "triad"): "read as diminished without the seventh",
    ("o", "dim7"): "read as diminished with the seventh",
    ("two", "add9"): "2 read as a ninth added to the triad",
    ("two", "no third"): "2 read as a ninth without the third",
    ("sus", "triad"): "sus read as sus4",
    ("sus", "9sus"): "sus read as 9sus4",
    ("plus", "#5"): "7+ read as a raised fifth",
    ("plus", "maj7"): "7+ read as a major seventh",
    ("maj", "triad"): "maj read as a plain triad",
    ("maj", "maj7"): "maj read as a major seventh",
}
"""Rule and what it says -> how a doubtful symbol was taken, in words."""


@dataclass(frozen=True, slots=True)
class HouseRules:
    """`o`: Co is a triad or has the seventh. `two`: C2 keeps its third or not. `sus`: Csus is a triad or a ninth
    chord. `plus`: C7+ raises the fifth or the seventh. `maj`: Cmaj is a triad or has the seventh. `names`: english,
    german (H, B, Es, Fis) or solfege (Do, Re, Mi). `lower_minor`: a lower-case root is minor."""

    o: str = "triad"
    two: str = "add9"
    sus: str = "triad"
    plus: str = "#5"
    maj: str = "triad"
    names: str = "english"
    lower_minor: bool = False


DEFAULT_RULES = HouseRules()
