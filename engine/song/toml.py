"""TOML read as a table, refused where a key has more parts than any file of ours: reading it would take minutes."""

import re
import tomllib
from typing import Any

MOST_PARTS = 200
"""Parts of a dotted key; ours have three at most, and the time to read one grows with the square (own choice)."""

LARGEST = 2**63 - 1
"""The largest integer that a TOML file may hold. Source: TOML 1.0.0, integer."""

_LONG_NUMBER = re.compile(r"\d{19}|0[xob][0-9a-fA-F_]{16}|(?:\d_){9}")

_ENDLESS = re.compile(r"""(?<![\w"'-])(?:[\w"'-]++[ \t]*+\.[ \t]*+)""" + f"{{{MOST_PARTS}}}")


def read_toml(text: str) -> dict[str, Any]:
    """Return the table of a TOML text; integers beyond what TOML allows become the nearest it does.

    Raises:
        ValueError: not valid TOML (then a tomllib.TOMLDecodeError), or an endless key.
        RecursionError: values nested without end.
    """
    if _ENDLESS.search(text):
        raise ValueError("a key of hundreds of parts")
    table = tomllib.loads(text)
    return _bounded(table) if _LONG_NUMBER.search(text) else table


def _bounded(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _bounded(item) for key, item in value.items()}
    if isinstance(value, list):
        return [_bounded(item) for item in value]
    return max(-LARGEST, min(value, LARGEST)) if type(value) is int else value
