"""Sets of one and of two short songs in files."""

from pathlib import Path

SONG = 'title = "Pier"\nkey = "C"\nmeter = "4/4"\ntempo = 100\n[sections.Verse]\nbars = "| Dm7 | G7 | Cmaj7 | % |"\n'
SET = '# tonight\ntitle = "Pier"\n\n[[songs]]\nfile = "a.toml"\n\n[[songs]]\nfile = "b.toml"  # slow\n'
PIER = """\
title = "Pier Lights"
key = "C"
meter = "4/4"
tempo = 100
roadmap = "Verse, Bridge"

[sections.Verse]
bars = "| Dm7 | G7 | Cmaj7 | % |"

[sections.Bridge]
bars = "| Fmaj7 | Fm6 | Em7 | A7 |"
"""
PIER_SET = """\
# tonight
title = "Pier"

[[songs]]
file = "pier.toml"       # the opener
"""


def put(folder: Path, name: str, text: str = SONG) -> Path:
    """Write a file, its folders with it; return its path."""
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def written(folder: Path) -> Path:
    """Write the set and its songs; return the set's path."""
    for name in ("a", "b"):
        put(folder, f"{name}.toml", SONG.replace("Pier", f"Pier {name}"))
    return put(folder, "set.toml", SET)


def pier(folder: Path) -> Path:
    """Write a set of one song with two sections and a remark beside it; return the set's path."""
    put(folder, "pier.toml", PIER)
    return put(folder, "set.toml", PIER_SET)
