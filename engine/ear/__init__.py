"""How a chord sounds: low limits, roughness, the motion between chords."""
