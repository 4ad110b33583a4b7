import subprocess
import sys
from pathlib import Path

import pytest

from tui.widgets.palette import DARK, GROUND, LIGHT, THEMES, palette


def luminance(colour: str) -> float:
    """Relative luminance. Source: W3C, Web Content Accessibility Guidelines 2.2, definition of relative luminance."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio. Source: W3C, Web Content Accessibility Guidelines 2.2, definition of contrast ratio."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize(("theme", "looks"), [("dark", DARK), ("light", LIGHT)])
@pytest.mark.parametrize("role", ["chord", "next", "title", "text"])
def test_the_chords_stand_out_seven_to_one(theme: str, looks: dict[str, tuple[str, str, str]], role: str) -> None:
    assert contrast(looks[role][0], GROUND[theme]) >= 7


@pytest.mark.parametrize(("theme", "looks"), [("dark", DARK), ("light", LIGHT)])
def test_all_other_words_stand_out_well_enough_to_read(theme: str, looks: dict[str, tuple[str, str, str]]) -> None:
    hidden = {"black", "left hatch", "right solid", "faint"}
    for role, (ink, ground, _) in looks.items():
        if role not in hidden:
            assert contrast(ink, ground or GROUND[theme]) >= 4.5, role


@pytest.mark.parametrize("looks", [DARK, LIGHT])
def test_the_hands_differ_in_lightness_from_idle_keys(looks: dict[str, tuple[str, str, str]]) -> None:
    assert looks["left"][1] != looks["right"][1]
    for hand in ("left", "right"):
        assert contrast(looks[hand][1], looks["white"][1]) > 1.2


def test_both_colour_themes_know_the_same_roles() -> None:
    assert DARK.keys() == LIGHT.keys()


@pytest.mark.parametrize("role", [*DARK, "left on white", "black on white", "nobody knows"])
def test_the_plain_theme_has_no_colour(role: str) -> None:
    style = palette("plain").style(role)
    assert style.color is None
    assert style.bgcolor is None


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("role", ["?", "nobody knows"])
def test_an_unknown_role_looks_like_plain_text(theme: str, role: str) -> None:
    assert palette(theme).style(role).color == palette(theme).style("text").color


def test_an_unknown_theme_is_refused() -> None:
    with pytest.raises(ValueError, match="choose dark, light, plain"):
        palette("neon")


def test_sixteen_colours_still_tell_the_hands_apart() -> None:
    from rich.color import ColorSystem

    for theme in ("dark", "light"):
        grounds = [palette(theme).style(role).bgcolor for role in ("left", "right", "white", "black")]
        assert len({ground.downgrade(ColorSystem.STANDARD).number for ground in grounds if ground}) == 4


def test_pictures_need_no_textual() -> None:
    names = ("cells", "lettering", "keyboard", "moves", "roadmap", "chart", "palette")
    code = (
        "import sys; " + "; ".join(f"import tui.widgets.{name}" for name in names) + "; print('textual' in sys.modules)"
    )
    root = Path(__file__).parents[3]
    done = subprocess.run([sys.executable, "-c", code], cwd=root, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_a_row_becomes_a_strip_with_merged_runs() -> None:
    from tui.widgets.cells import text_row
    from tui.widgets.drawn import to_strip

    strip = to_strip(text_row("ab", 4, "left") + text_row("c", 2, "right"), palette("dark"))
    assert [segment.text for segment in strip] == ["ab  ", "c "]
    assert strip.cell_length == 6
