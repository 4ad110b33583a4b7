"""The terminal itself: bytes that come in, a terminal that goes, signals."""

TERMINATED, HUNG_UP, INTERRUPTED = 143, 129, 130
"""Exit codes: 128 and the signal's number, as shells count. Source: POSIX, shell command language, exit status."""
