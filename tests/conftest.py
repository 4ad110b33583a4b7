"""What holds for all tests: a slow machine is no fault in the music, and the same code gives the same answer twice.

Examples are the same in every run. To search for new ones: HYPOTHESIS_PROFILE=search python -m pytest ...
"""

import os

from hypothesis import settings

settings.register_profile("stillhand", deadline=None, derandomize=True)
settings.register_profile("search", deadline=None, derandomize=False)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "stillhand"))
