"""A planned song as notation: measures, note values, chord symbols. Source: MusicXML 4.0 (W3C)."""
