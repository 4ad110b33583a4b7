"""Printed sheets: one page a song, the set list, what a sub needs, and copies for horns."""
