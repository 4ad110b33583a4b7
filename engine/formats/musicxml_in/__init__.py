"""MusicXML lead sheets taken apart: safe reading, chord symbols, measures, their playing order, sections."""
