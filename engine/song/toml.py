"""TOML read as a table, refused where a key has more parts than any file of ours: reading it would take minutes."""

import re
import tomllib
from typing import Any

MOST_PARTS = 200
"""Parts of a dotted key; ours have three at most, and the time to read one grows with the square (own choice)."""

_ENDLESS = re.compile(r"""(?<![\w"'-])(?:[\w"'-]++[ \t]*+\.[ \t]*+)""" + f"{{{MOST_PARTS}}}")


def read_toml(text: str) -> dict[str, Any]:
    """Return the table of a TOML text.

    Raises:
        ValueError: not valid TOML (then a tomllib.TOMLDecodeError), or an endless key.
        RecursionError: values nested without end.
    """
    if _ENDLESS.search(text):
        raise ValueError("a key of hundreds of parts")
    return tomllib.loads(text)
