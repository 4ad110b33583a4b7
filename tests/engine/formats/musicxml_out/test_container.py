"""Scores packed as .mxl."""

import io
import zipfile

from engine.formats.musicxml_in.xml import score_tree
from engine.formats.musicxml_out.container import compressed

SCORE = b"<score-partwise version='4.0'><part-list/></score-partwise>"


def test_a_packed_score_is_read_back():
    assert score_tree(compressed(SCORE)).tag == "score-partwise"


def test_the_kind_of_file_stands_first_and_unpacked():
    with zipfile.ZipFile(io.BytesIO(compressed(SCORE))) as archive:
        first = archive.infolist()[0]
        assert (first.filename, first.compress_type) == ("mimetype", zipfile.ZIP_STORED)
        assert archive.testzip() is None


def test_the_same_score_gives_the_same_bytes():
    assert compressed(SCORE) == compressed(SCORE)
