"""Where settings and data are kept: STILLHAND_HOME for both, else each system's own places."""

import os
from pathlib import Path


def config_folder() -> Path:
    """Return where the player's settings are kept."""
    home = os.environ.get("STILLHAND_HOME")
    if home:
        return Path(home)
    import platformdirs

    return Path(platformdirs.user_config_dir("stillhand", appauthor=False))


def data_folder() -> Path:
    """Return where the demo set's copy and the session are kept."""
    home = os.environ.get("STILLHAND_HOME")
    if home:
        return Path(home)
    import platformdirs

    return Path(platformdirs.user_data_dir("stillhand", appauthor=False))
