"""MIDI in and out, in processes of their own: `clock` is the way in, and the only thing the rest of the program
talks to."""
