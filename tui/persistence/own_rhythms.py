"""The player's own comping rhythms: rhythms.toml in the folder of settings, read when something is to sound."""

from typing import TYPE_CHECKING

from engine.errors import ChartError
from tui.persistence.files import StoreError, read_text
from tui.persistence.folders import config_folder

if TYPE_CHECKING:
    from engine.performance.rhythms import Rhythm

NAME = "rhythms.toml"


def own_rhythms() -> "tuple[tuple[Rhythm, ...], str]":
    """Return the player's rhythms, and in words what is wrong with their file ("" for nothing or no file)."""
    from engine.performance.rhythm_file import read_rhythms

    path = config_folder() / NAME
    if not path.exists():
        return (), ""
    try:
        return read_rhythms(read_text(path), NAME), ""
    except (StoreError, ChartError) as fault:
        return (), str(fault)
