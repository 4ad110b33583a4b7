"""How everything is shown: theme, signs or letters, names or numbers; changed by keys and by the player's settings."""

from dataclasses import dataclass

from tui.widgets.drawn import Look
from tui.widgets.palette import THEMES


@dataclass(slots=True)
class Display:
    """One per run. `style` is how chord symbols are written (words or signs), `numbers` shows them as degrees of the
    key, `looks_ahead` the coming bars in place of the roadmap where there is no room for both; `ascii_only` is for
    terminals that know no more, `coarse` for consoles whose font lacks quarter blocks."""

    theme: str = "dark"
    style: str = "words"
    numbers: bool = False
    looks_ahead: bool = False
    ascii_only: bool = False
    coarse: bool = False

    @property
    def look(self) -> Look:
        """How pictures become ink."""
        return Look(self.theme, self.ascii_only)

    def next_theme(self) -> str:
        """Change to the next theme and return it."""
        self.theme = THEMES[(THEMES.index(self.theme) + 1) % len(THEMES)]
        return self.theme
