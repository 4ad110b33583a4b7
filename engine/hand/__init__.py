"""A hand on a keyboard: millimetres, reach, fingers."""
