"""Everything that writes songs and sets: whole songs (`writing`), single changes (`file_edits`, `bar_edits`)."""

from engine.song.bar_edits import bar_text, replace_bar
from engine.song.file_edits import add_song, drop_song, move_song, set_band, set_manner, set_part, set_pins, set_tonight
from engine.song.writing import pin_values, pitch, quoted, write_bars, write_events, write_song

__all__ = [
    "add_song", "bar_text", "drop_song", "move_song", "pin_values", "pitch", "quoted",
    "replace_bar", "set_band", "set_manner", "set_part", "set_pins", "set_tonight",
    "write_bars", "write_events", "write_song",
]  # fmt: skip
