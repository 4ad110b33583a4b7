"""Other files: MIDI, MusicXML in and out, pasted text, printed sheets, plain text."""
