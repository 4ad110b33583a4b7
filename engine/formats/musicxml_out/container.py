"""A MusicXML score in a compressed file (.mxl). Source: MusicXML 4.0, compressed files (W3C)."""

import io
import zipfile

SCORE = "score.musicxml"
MIMETYPE = "application/vnd.recordare.musicxml"
CONTAINER = f"""\
<?xml version="1.0" encoding="UTF-8"?>
<container>
  <rootfiles>
    <rootfile full-path="{SCORE}" media-type="{MIMETYPE}+xml"/>
  </rootfiles>
</container>
"""
EPOCH = (1980, 1, 1, 0, 0, 0)
"""The earliest date a zip file knows: the same score gives the same bytes."""


def compressed(score: bytes) -> bytes:
    """Return a score packed; what kind of file it is stands first and unpacked, as the W3C recommends."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr(zipfile.ZipInfo("mimetype", EPOCH), MIMETYPE)
        for name, content in (("META-INF/container.xml", CONTAINER.encode()), (SCORE, score)):
            archive.writestr(zipfile.ZipInfo(name, EPOCH), content, zipfile.ZIP_DEFLATED)
    return packed.getvalue()
