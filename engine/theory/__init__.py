"""Pitch, key and meter."""
