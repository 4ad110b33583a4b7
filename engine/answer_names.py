"""What a player lets count as the planned chord: words that settings and judgement share."""

ANSWERS = ("planned", "octaves", "own")
"""The planned notes, in any octave over the planned bass; these with octaves and the root added; any voicing of one's
own that says the chord. The usual word first."""
