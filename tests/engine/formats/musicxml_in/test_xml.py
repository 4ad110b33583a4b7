"""Files from strangers are read safely or refused in one line."""

import io
import zipfile

import pytest

from engine.formats.import_result import NotImported
from engine.formats.musicxml_in.reader import song_from_musicxml
from tests.engine.formats.scores import measure, packed, score


def test_a_compressed_score_is_the_same_song():
    data = score(measure("C"), measure("F"))
    assert song_from_musicxml(packed(data)).text == song_from_musicxml(data).text


TRICKS = {
    "entities": b'<!DOCTYPE a [<!ENTITY b "bomb">]><score-partwise>&b;</score-partwise>',
    "outside files": b'<!DOCTYPE a [<!ENTITY b SYSTEM "file:///etc/passwd">]><score-partwise>&b;</score-partwise>',
    "depth": b"<a>" * 2000,
    "a cut file": score(measure("C"))[:-30],
    "no music": b"<html><body/></html>",
    "no chords": score(measure()),
    "nothing": b"",
    "a picture": b"\x89PNG\r\n\x1a\n\0\0\0",
    "a cut zip": packed(score(measure("C")))[:-40],
    "an encoding nobody knows": b'<?xml version="1.0" encoding="klingon"?><score-partwise/>',
    "a path out of the zip": packed(b"<score-partwise/>", "../../evil.xml", "/etc/passwd"),
    "an empty zip": b"PK\x05\x06" + b"\0" * 18,
}


@pytest.mark.parametrize("trick", TRICKS.values(), ids=TRICKS.keys())
def test_tricks_and_damage_are_one_clear_error(trick):
    with pytest.raises(NotImported) as raised:
        song_from_musicxml(trick)
    assert "\n" not in str(raised.value)


def test_a_bomb_is_not_unpacked():
    with pytest.raises(NotImported, match="far more"):
        song_from_musicxml(packed(b"<a>" + b" " * 40_000_000 + b"</a>"))


def archive(**members: bytes) -> bytes:
    answer = io.BytesIO()
    with zipfile.ZipFile(answer, "w") as packing:
        for name, content in members.items():
            packing.writestr({"container": "META-INF/container.xml"}.get(name, f"{name}.xml"), content)
    return answer.getvalue()


def test_a_container_that_cannot_be_read_is_passed_over_where_one_score_lies_in_the_archive():
    data = archive(container=b"<container><rootfiles>", score=score(measure("C")))
    assert song_from_musicxml(data).text == song_from_musicxml(score(measure("C"))).text


def test_a_container_in_its_own_namespace_names_the_score():
    named = b'<c:container xmlns:c="urn:x"><c:rootfile full-path="second.xml"/></c:container>'
    data = archive(container=named, first=score(measure("C")), second=score(measure("F")))
    assert song_from_musicxml(data).song.sections[0].bars[0].events[0].symbol == "F"


@pytest.mark.parametrize(
    ("data", "member"),
    [
        (archive(container=b"<container>", first=score(measure("C")), second=score(measure("F"))), "container.xml"),
        (archive(score=score(measure("C"))[:-30]), "score.xml"),
    ],
)
def test_the_damaged_file_of_an_archive_is_named(data, member):
    with pytest.raises(NotImported, match=member):
        song_from_musicxml(data)
