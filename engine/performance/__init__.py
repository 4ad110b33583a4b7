"""Music in time: counts, events, what is due, what is heard. `now` is always passed in."""
