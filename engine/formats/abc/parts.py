"""The order of the parts of an ABC tune: ABA, A2B3, (AB)2C.

Source: the ABC music standard 2.1 (2011), section 3.1.9.
"""

import re

MOST = 200
"""Parts as played beyond which an order is taken for a slip (own choice)."""


def part_order(text: str, labels: list[str], names: list[str], doubts: list[str]) -> tuple[str, ...]:
    """Return the sections as played; without an order, or where it names what is not there, as they are written.

    `labels` are what the tune calls its parts, `names` the sections made of them.
    """
    called = dict(zip(reversed(labels), reversed(names), strict=True))
    order = _unrolled(text.replace(".", "").replace(" ", ""))
    if text and (order is None or any(letter not in called for letter in order)):
        doubts.append(f"the order of the parts {text[:40]} does not fit them; they are played as written")
        order = None
    if not order:
        return tuple(names)
    opening = [name for name, label in zip(names, labels, strict=True) if label == "Opening"]
    return (*opening, *(called[letter] for letter in order))


def _unrolled(text: str) -> str | None:
    """Return an order written out, None where it cannot be read."""
    text = re.sub(r"([A-Z])(\d{1,2})", lambda found: found[1] * int(found[2]), text)
    inner = re.compile(r"\(([A-Z]*)\)(\d{0,2})")
    while True:
        opened = inner.sub(lambda found: found[1] * int(found[2] or 1), text)
        if len(opened) > MOST * 10:
            return None
        if opened == text:
            break
        text = opened
    return text if re.fullmatch("[A-Z]*", text) and len(text) <= MOST else None
