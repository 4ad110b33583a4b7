"""Words for how a song is played: what is decided and what clashes is told to the player in them."""

MANNER_WORDS = {
    "method": "voicing", "texture": "texture", "hands": "hands", "sound": "sound", "bass": "bass player",
    "colour": "tensions", "comp": "rhythm", "tune_is": "tune", "left_hand": "left hand",
}  # fmt: skip
"""A value of `engine.song.model.MANNER`, or of a section -> its words."""
