"""House rules: how a chart means the symbols that players read in different ways."""

from dataclasses import dataclass

CHOICES: dict[str, tuple[str, ...]] = {
    "o": ("triad", "dim7"),
    "two": ("add9", "no third"),
    "sus": ("triad", "9sus"),
    "plus": ("#5", "maj7"),
    "names": ("english", "german", "solfege"),
}
"""Rule -> what it may say, the default first."""


@dataclass(frozen=True, slots=True)
class HouseRules:
    """`o`: Co is a triad or has the seventh. `two`: C2 keeps its third or not. `sus`: Csus is a triad or a ninth
    chord. `plus`: C7+ raises the fifth or the seventh. `names`: english, german (H, B, Es, Fis) or solfege (Do, Re,
    Mi). `lower_minor`: a lower-case root is minor."""

    o: str = "triad"
    two: str = "add9"
    sus: str = "triad"
    plus: str = "#5"
    names: str = "english"
    lower_minor: bool = False


DEFAULT_RULES = HouseRules()
