"""What holds for all tests: a slow machine is no fault in the music."""

from hypothesis import settings

settings.register_profile("stillhand", deadline=None)
settings.load_profile("stillhand")
