"""What each role looks like: themes dark, light and plain.

Plain uses no colour at all, only reverse, bold, underline and dim: for NO_COLOR and for eyes that want it. The colours
of the two hands are our own choice, told apart by colour-blind eyes (blue against orange), and never the only sign: the
left hand's keys are hatched, its typed figures underlined. "ink on ground" takes the colour of the first role's paint
for the characters and of the second's for the ground.
"""

from dataclasses import dataclass
from functools import lru_cache

from rich.style import Style

THEMES = ("dark", "light", "plain")

Look = tuple[str, str, str]
"""(colour of the characters, colour of the ground or "" for the screen's, attributes of Rich such as "bold")."""

DARK: dict[str, Look] = {
    "back": ("#c8c8c2", "", ""),
    "text": ("#e6e6e0", "", ""),
    "dim": ("#8f8f88", "", ""),
    "title": ("#ffffff", "", "bold"),
    "chord": ("#fff6d8", "", "bold"),
    "next": ("#b9c7d6", "", ""),
    "after": ("#8795a3", "", ""),
    "cue": ("#e8d27a", "", ""),
    "left": ("#08131c", "#4db8ff", "bold"),
    "right": ("#1c1204", "#ffab2e", "bold"),
    "left hatch": ("#2f8fd0", "#4db8ff", ""),
    "right solid": ("#ffab2e", "#ffab2e", ""),
    "left digit": ("#08131c", "#4db8ff", "bold underline"),
    "right digit": ("#1c1204", "#ffab2e", "bold"),
    "left open": ("#4db8ff", "#0b0b10", "bold"),
    "right open": ("#ffab2e", "#0b0b10", "bold"),
    "left text": ("#4db8ff", "", "underline"),
    "left sign": ("#4db8ff", "", ""),
    "right sign": ("#ffab2e", "", ""),
    "faint": ("#4a4a4e", "", ""),
    "right text": ("#ffab2e", "", ""),
    "white": ("#26262a", "#8f8f88", ""),
    "black": ("#16161a", "#16161a", ""),
    "black next": ("#e6e6e0", "#16161a", ""),
    "held": ("#0c1a0c", "#7fd67f", "bold"),
    "warn": ("#ff6b5e", "", "bold"),
    "bar": ("#d8d8d2", "#2c2c34", ""),
    "bar strong": ("#ffffff", "#2c2c34", "bold"),
    "bar past": ("#8f8f88", "#1c1c22", ""),
    "here": ("#101014", "#fff6d8", "bold"),
    "effort": ("#b9c7d6", "", ""),
    "hard": ("#ffab2e", "", "bold"),
    "pin": ("#7fd67f", "", "bold"),
    "loop": ("#e8d27a", "", "bold"),
}
"""Chords stand out from the ground more than 7:1 (WCAG 2.2, success criterion 1.4.6); a test computes it."""

LIGHT: dict[str, Look] = {
    "back": ("#303034", "", ""),
    "text": ("#1a1a1e", "", ""),
    "dim": ("#66666c", "", ""),
    "title": ("#000000", "", "bold"),
    "chord": ("#000000", "", "bold"),
    "next": ("#2c4560", "", ""),
    "after": ("#5a6570", "", ""),
    "cue": ("#6b4e00", "", ""),
    "left": ("#ffffff", "#005f9e", "bold"),
    "right": ("#1c1204", "#f08c00", "bold"),
    "left hatch": ("#4d97c9", "#005f9e", ""),
    "right solid": ("#f08c00", "#f08c00", ""),
    "left digit": ("#ffffff", "#005f9e", "bold underline"),
    "right digit": ("#1c1204", "#f08c00", "bold"),
    "left open": ("#005f9e", "#ffffff", "bold"),
    "right open": ("#8a4b00", "#ffffff", "bold"),
    "left text": ("#005f9e", "", "underline"),
    "left sign": ("#005f9e", "", ""),
    "right sign": ("#8a4b00", "", ""),
    "faint": ("#a8a8ac", "", ""),
    "right text": ("#8a4b00", "", ""),
    "white": ("#26262a", "#ffffff", ""),
    "black": ("#1a1a1e", "#1a1a1e", ""),
    "black next": ("#ffffff", "#1a1a1e", ""),
    "held": ("#ffffff", "#1d6b1d", "bold"),
    "warn": ("#b00010", "", "bold"),
    "bar": ("#1a1a1e", "#d0d0d4", ""),
    "bar strong": ("#000000", "#d0d0d4", "bold"),
    "bar past": ("#5c5c62", "#e2e2e4", ""),
    "here": ("#ffffff", "#1a1a1e", "bold"),
    "effort": ("#2c4560", "", ""),
    "hard": ("#8a4b00", "", "bold"),
    "pin": ("#1d6b1d", "", "bold"),
    "loop": ("#6b4e00", "", "bold"),
}

PLAIN: dict[str, str] = {
    "title": "bold",
    "chord": "bold",
    "dim": "dim",
    "after": "dim",
    "faint": "dim",
    "left": "reverse",
    "right": "reverse",
    "left digit": "reverse underline bold",
    "right digit": "reverse bold",
    "left hatch": "reverse",
    "right solid": "reverse",
    "left open": "bold underline",
    "right open": "bold",
    "left text": "underline",
    "right text": "bold",
    "held": "reverse",
    "warn": "bold underline",
    "bar": "",
    "bar strong": "reverse bold",
    "bar past": "dim",
    "here": "reverse bold",
    "hard": "bold",
    "pin": "bold",
    "loop": "bold",
}

GROUND: dict[str, str] = {"dark": "#0e0e12", "light": "#f4f4f0", "plain": ""}
"""The screen's own ground in each theme; plain leaves it to the terminal."""


@dataclass(frozen=True, slots=True)
class Palette:
    """A theme by name: dark, light or plain."""

    theme: str = "dark"

    def style(self, role: str) -> Style:
        """Return the style of a role; an unknown one looks like plain text of the theme."""
        return _style(self.theme, role)

    @property
    def ground(self) -> str:
        """The screen's ground as #rrggbb, or "" where the terminal decides."""
        return GROUND[self.theme]


def palette(theme: str) -> Palette:
    """Return a theme's palette.

    Raises:
        ValueError: no such theme.
    """
    if theme not in THEMES:
        raise ValueError(f"no theme {theme!r}: choose {', '.join(THEMES)}")
    return Palette(theme)


@lru_cache(maxsize=512)
def _style(theme: str, role: str) -> Style:
    if theme == "plain":
        return Style.parse(PLAIN.get(role, "") or "none")
    looks = DARK if theme == "dark" else LIGHT
    if role in looks:
        ink, ground, attributes = looks[role]
        return Style.parse(f"{attributes} {ink} on {ground or GROUND[theme]}")
    ink, _, ground = role.partition(" on ")
    if ground:
        return Style.parse(f"{_paint(looks, theme, ink)} on {_paint(looks, theme, ground)}")
    return _style(theme, "text")


def _paint(looks: dict[str, Look], theme: str, role: str) -> str:
    """Return the colour that fills a thing of this role: its ground if it has one, else its ink."""
    if role == "back":
        return GROUND[theme]
    ink, ground, _ = looks.get(role, looks["text"])
    return ground or ink
