"""How high each sign of the stand is at five sizes of the window: `python -m tests.bench signs`.

The screen is 170 mm high. Goal: 15 mm, three times the 5 mm that 20/40 vision reads at 1.5 m (common practice for
signs on a stage). The least over all steps of the demo set's opener.
"""

from tests.tui.signs import SIZES, opener, signs


def main() -> None:
    found = {size: {sign.name: sign for sign in signs(*opener(), *size)} for size in SIZES}
    print(f"{'rows / mm':<20}" + "".join(f"{width}x{height}".rjust(13) for width, height in SIZES))
    for name in found[SIZES[-1]]:
        cells = [found[size].get(name) for size in SIZES]
        print(
            f"{name:<20}"
            + "".join(f"{s.rows:g} / {s.millimetres:.1f}".rjust(13) if s else "typed".rjust(13) for s in cells)
        )


if __name__ == "__main__":
    main()
