"""ABC notation files: tune and chords, in and out."""
