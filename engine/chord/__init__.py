"""Chord symbols in all dialects, and what they mean."""
