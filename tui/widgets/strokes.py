"""Letters of chord symbols at any height from six pixels, built from bars, rounded frames and slopes on the pixel grid.

Our own design: every edge lies on a whole pixel, so stems stay equally thick at every size and nothing needs smoothing.
Proportions are shares of the height; the stroke is about a sixth of it. The module is long since letters are many.
"""

from collections.abc import Callable
from functools import lru_cache

from tui.widgets.pen import Pen, columns, stroke

Bitmap = tuple[tuple[int, ...], ...]


def _a_capital(p: Pen) -> None:
    thick, middle = p.t * (1.15 if p.t > 2 else 1.0), p.wide / 2
    p.slope(middle - thick * 0.62, 0, 0, p.high, thick)
    p.slope(middle - thick * 0.38, 0, p.wide - thick, p.high, thick)
    p.bar(p.wide * 0.22, p.y(0.6), p.wide * 0.78, p.y(0.6) + p.t)


def _b_capital(p: Pen) -> None:
    middle = p.y(0.5)
    p.frame(0, 0, p.wide - max(1, p.t // 3), middle + (p.t + 1) // 2, "bc")
    p.frame(0, middle - p.t // 2, p.wide, p.high, "bc")


def _c_capital(p: Pen) -> None:
    p.frame(0, 0, p.wide, p.high)
    p.bar(p.t, p.y(0.32), p.wide, p.high - p.y(0.32), 0)


def _d_capital(p: Pen) -> None:
    p.frame(0, 0, p.wide, p.high, "bc")


def _e_capital(p: Pen) -> None:
    _f_capital(p)
    p.bar(0, p.high - p.t, p.wide, p.high)


def _f_capital(p: Pen) -> None:
    p.bar(0, 0, p.t, p.high)
    p.bar(0, 0, p.wide, p.t)
    top = (p.high - p.t) // 2
    p.bar(0, top, p.wide - max(1, p.t // 2), top + p.t)


def _g_capital(p: Pen) -> None:
    p.frame(0, 0, p.wide, p.high)
    p.bar(p.t, p.y(0.32), p.wide, p.y(0.5), 0)
    p.bar(p.wide * 0.5, p.y(0.5), p.wide, p.y(0.5) + p.t)


def _h_capital(p: Pen) -> None:
    _stems(p)
    p.bar(0, (p.high - p.t) // 2, p.wide, (p.high - p.t) // 2 + p.t)


def _n_capital(p: Pen) -> None:
    _stems(p)
    p.slope(0, 0, p.wide - p.t * 1.25, p.high, p.t * 1.25)


def _stems(p: Pen) -> None:
    p.bar(0, 0, p.t, p.high)
    p.bar(p.wide - p.t, 0, p.wide, p.high)


def _top(p: Pen) -> int:
    """Return the row where small letters begin."""
    return p.y(0.27)


def _a(p: Pen) -> None:
    p.frame(0, _top(p), p.wide, p.high, "ad")
    p.bar(p.wide - p.t, _top(p), p.wide, p.high)


def _b(p: Pen) -> None:
    p.bar(0, 0, p.t, p.high)
    p.frame(0, _top(p), p.wide, p.high, "bc")


def _c(p: Pen) -> None:
    p.frame(0, _top(p), p.wide, p.high)
    p.bar(p.t, _top(p) + p.t, p.wide, p.high - p.t, 0)


def _d(p: Pen) -> None:
    p.bar(p.wide - p.t, 0, p.wide, p.high)
    p.frame(0, _top(p), p.wide, p.high, "ad")


def _e(p: Pen) -> None:
    p.frame(0, _top(p), p.wide, p.high)
    middle = (_top(p) + p.high - p.t) // 2
    p.bar(0, middle, p.wide, middle + p.t)
    p.bar(p.t, middle + p.t, p.wide, p.high - p.t, 0)


def _g(p: Pen) -> None:
    p.frame(0, p.y(0.14), p.wide, p.high - p.t - max(1, p.t // 2), "ad")
    p.bar(p.wide - p.t, p.y(0.14), p.wide, p.high - 1)
    p.bar(p.t // 2, p.high - p.t, p.wide - 1, p.high)


def _h(p: Pen) -> None:
    p.bar(0, 0, p.t, p.high)
    _n(p)


def _i(p: Pen) -> None:
    p.bar(p.wide - p.t, _top(p), p.wide, p.high)
    p.bar(p.wide - p.t, 0, p.wide, min(p.t, _top(p) - 1))


def _j(p: Pen) -> None:
    _i(p)
    p.bar(0, p.high - p.t, p.wide - 1, p.high)
    p.bar(p.wide - 1, p.high - 1, p.wide, p.high, 0)


def _l(p: Pen) -> None:
    p.bar(0, 0, p.t, p.high - 1)
    p.bar(1, p.high - p.t, p.wide, p.high)


def _m(p: Pen) -> None:
    middle = (p.wide - p.t) // 2
    p.frame(0, _top(p), middle + p.t, p.high + 3 * p.t, "b")
    p.frame(middle, _top(p), p.wide, p.high + 3 * p.t, "b")


def _n(p: Pen) -> None:
    p.frame(0, _top(p), p.wide, p.high + 3 * p.t, "b")


def _o(p: Pen) -> None:
    p.frame(0, _top(p), p.wide, p.high)


def _s(p: Pen) -> None:
    top = min(_top(p), p.high - 3 * p.t - 2)  # three bars need two gaps, or the letter closes
    middle = (top + p.high - p.t) // 2
    p.frame(0, top, p.wide + 2 * p.t, middle + p.t, "ad")
    p.frame(-2 * p.t, middle, p.wide, p.high, "bc")
    p.bar(p.wide - 1, top, p.wide, top + 1, int(p.t == 1))
    p.bar(0, p.high - 1, 1, p.high, int(p.t == 1))


def _t(p: Pen) -> None:
    left = max(1, (p.wide - p.t) // 3)
    p.bar(left, p.y(0.06), left + p.t, p.high - (p.t > 1))
    p.bar(0, _top(p), p.wide, _top(p) + p.t)
    p.bar(left + 1, p.high - p.t, p.wide, p.high)


def _u(p: Pen) -> None:
    p.frame(0, _top(p) - 3 * p.t, p.wide, p.high, "d")
    p.bar(0, 0, p.wide, _top(p), 0)


def _zero(p: Pen) -> None:
    p.frame(0, 0, p.wide, p.high)


def _one(p: Pen) -> None:
    p.bar(p.wide - p.t, 0, p.wide, p.high)
    for step in range(p.wide - p.t):
        p.bar(p.wide - p.t - 1 - step, step + 1, p.wide - p.t - step, step + 1 + p.t)


def _two(p: Pen) -> None:
    middle = p.y(0.56)
    p.frame(0, 0, p.wide, middle + p.t * 2, "ab")
    p.bar(0, p.y(0.3), p.wide - p.t, p.high, 0)
    p.bar(0, p.y(0.4), p.wide, p.high, 0)
    p.slope(p.wide - p.t * 1.2, p.y(0.4), 0, p.high - p.t, p.t * 1.25)
    p.bar(0, p.high - p.t, p.wide, p.high)


def _three(p: Pen) -> None:
    middle = (p.high - p.t) // 2
    p.frame(0, 0, p.wide, middle + p.t)
    p.frame(0, middle, p.wide, p.high)
    p.bar(0, p.y(0.28), p.wide - p.t, p.high - p.y(0.28), 0)
    p.bar(p.wide * 0.35, middle, p.wide - p.t, middle + p.t)


def _four(p: Pen) -> None:
    stem = p.wide - p.t - max(1, p.t // 2)
    p.bar(stem, 0, stem + p.t, p.high)
    p.slope(stem - p.t * 0.2, 0, 0, p.y(0.6), p.t * 1.2)
    p.bar(0, p.y(0.6), p.wide, p.y(0.6) + p.t)


def _five(p: Pen) -> None:
    middle = p.y(0.38)
    p.bar(0, 0, p.wide - (p.t > 2), p.t)
    p.bar(0, 0, p.t, middle + p.t)
    p.frame(-p.wide // 2, middle, p.wide, p.high, "bc")
    p.bar(0, p.high - 1, 1, p.high, int(p.t == 1))


def _six(p: Pen) -> None:
    p.frame(0, 0, p.wide, p.high)
    p.bar(p.t, p.y(0.28), p.wide, p.y(0.42), 0)
    p.bar(p.wide - p.t, p.y(0.28), p.wide, p.y(0.6), 0)
    p.frame(0, p.y(0.42), p.wide, p.high, "bcd")


def _seven(p: Pen) -> None:
    p.bar(0, 0, p.wide, p.t)
    p.slope(p.wide - p.t * 1.2, p.t, p.wide * 0.24, p.high, p.t * 1.2)


def _eight(p: Pen) -> None:
    middle = (p.high - p.t) // 2
    p.frame(p.t // 3, 0, p.wide - p.t // 3, middle + p.t)
    p.frame(0, middle, p.wide, p.high)


def _nine(p: Pen) -> None:
    _six(p)
    p.turned()


def _flat(p: Pen) -> None:
    p.bar(0, 0, max(1, round(p.t * 0.8)), p.high)
    p.frame(0, p.y(0.42), p.wide, p.high, "bc")


def _sharp(p: Pen) -> None:
    thin = max(1, round(p.t * 0.76))
    edge = max(1, round(p.wide * 0.15))
    for x in (edge, p.wide - edge - thin):
        p.bar(x, 0, x + thin, p.high)
    upper = max(1, round(p.high * 0.3 - thin / 2))
    for y in (upper, p.high - upper - thin):
        p.bar(0, y, p.wide, y + thin)


def _triangle(p: Pen) -> None:
    thick = max(1.0, p.t * 0.85)
    p.slope(p.wide / 2 - thick * 0.6, 0, 0, p.high, thick)
    p.slope(p.wide / 2 - thick * 0.4, 0, p.wide - thick, p.high, thick)
    p.bar(0, p.high - round(thick), p.wide, p.high)


def _half_diminished(p: Pen) -> None:
    room = max(1, p.t // 2)
    p.frame(room, p.y(0.16), p.wide - room, p.high - p.y(0.16) + room)
    p.slope(p.wide - p.t, p.y(0.04), 0, p.high, max(1.0, p.t * 0.7))


def _ring(p: Pen) -> None:
    p.frame(0, 0, p.wide, min(p.high, p.wide))


def _plus(p: Pen) -> None:
    across, middle = (p.wide - p.t) // 2, p.y(0.55)
    p.bar(0, middle - p.t // 2, p.wide, middle - p.t // 2 + p.t)
    p.bar(across, middle - p.t // 2 - across, across + p.t, middle - p.t // 2 + p.t + across)


def _minus(p: Pen) -> None:
    p.bar(0, p.y(0.55) - p.t // 2, p.wide, p.y(0.55) - p.t // 2 + p.t)


def _open(p: Pen) -> None:
    p.frame(0, 0, p.wide * 3, p.high, "ad")


def _close(p: Pen) -> None:
    _open(p)
    p.turned()


def _slash(p: Pen) -> None:
    p.slope(p.wide - p.t * 1.1, 0, 0, p.high, p.t * 1.1)


def _comma(p: Pen) -> None:
    p.bar(p.wide - p.t, p.high - p.t - max(1, p.t // 2), p.wide, p.high - max(1, p.t // 2))
    p.bar(0, p.high - max(1, p.t // 2), p.wide - 1, p.high)


def _dot(p: Pen) -> None:
    p.bar(0, p.high - p.t, p.t, p.high)


def _equal(p: Pen) -> None:
    for middle in (0.36, 0.7):
        p.bar(0, p.y(middle) - p.t // 2, p.wide, p.y(middle) - p.t // 2 + p.t)


def _up(p: Pen) -> None:
    half = p.high // 2
    for y in range(half):
        spread = (p.wide - 1) / 2 * (y + 1) / half
        p.bar(p.wide / 2 - 0.5 - spread, y, p.wide / 2 + 0.5 + spread, y + 1)


def _down(p: Pen) -> None:
    _up(p)
    p.turned()


LETTERS: dict[str, tuple[float, Callable[[Pen], None]]] = {
    "A": (0.76, _a_capital),
    "B": (0.68, _b_capital),
    "C": (0.68, _c_capital),
    "D": (0.72, _d_capital),
    "E": (0.62, _e_capital),
    "F": (0.6, _f_capital),
    "G": (0.74, _g_capital),
    "H": (0.7, _h_capital),
    "N": (0.74, _n_capital),
    "a": (0.54, _a),
    "b": (0.56, _b),
    "c": (0.5, _c),
    "d": (0.56, _d),
    "e": (0.56, _e),
    "g": (0.56, _g),
    "h": (0.56, _h),
    "i": (0.0, _i),
    "j": (0.3, _j),
    "l": (0.26, _l),
    "m": (0.86, _m),
    "n": (0.56, _n),
    "o": (0.56, _o),
    "s": (0.5, _s),
    "t": (0.42, _t),
    "u": (0.56, _u),
    "0": (0.6, _zero),
    "1": (0.36, _one),
    "2": (0.6, _two),
    "3": (0.6, _three),
    "4": (0.68, _four),
    "5": (0.6, _five),
    "6": (0.6, _six),
    "7": (0.6, _seven),
    "8": (0.6, _eight),
    "9": (0.6, _nine),
    "♭": (0.48, _flat),
    "♯": (0.72, _sharp),
    "Δ": (0.9, _triangle),
    "ø": (0.96, _half_diminished),
    "°": (0.46, _ring),
    "+": (0.6, _plus),
    "-": (0.5, _minus),
    "=": (0.56, _equal),
    "(": (0.3, _open),
    ")": (0.3, _close),
    "/": (0.5, _slash),
    ",": (0.24, _comma),
    ".": (0.0, _dot),
    "▲": (0.7, _up),
    "▼": (0.7, _down),
}
"""Letter -> (width as a share of the height, 0 for a single stroke; how it is drawn)."""


def breadth(char: str, high: int) -> int:
    """Return the width in pixels of a letter without drawing it."""
    return columns(high, LETTERS[char][0], stroke(high))


@lru_cache(maxsize=1024)
def drawn(char: str, high: int) -> Bitmap:
    """Return one letter `high` pixels high (at least 6).

    Raises:
        KeyError: the letter is not drawn (see `LETTERS`).
    """
    share, draw = LETTERS[char]
    pen = Pen(high, share)
    draw(pen)
    return tuple(tuple(row) for row in pen.dots)
