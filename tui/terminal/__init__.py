"""The terminal itself: bytes that come in, a terminal that goes, signals."""
