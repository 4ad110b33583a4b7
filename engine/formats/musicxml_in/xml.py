"""Untrusted XML and zip files read safely: no entities, no outside files, nothing unpacked beyond a limit.

MusicXML names its DTD by address; it is never fetched. Source of the container: MusicXML 4.0, compressed files (W3C).
"""

import io
import zipfile
import zlib
from xml.etree.ElementTree import Element, TreeBuilder
from xml.parsers import expat

from engine.formats.import_result import NotImported

LARGEST = 30_000_000
"""Bytes of XML, unpacked, beyond which a file is no lead sheet (own choice; real ones stay under 1 MB)."""
MOST_ELEMENTS = 1_000_000
"""Elements beyond which a file is refused (own choice)."""
DEEPEST = 60
"""Elements inside elements (own choice; MusicXML itself needs about 12)."""
MOST_FILES = 1000
"""Files in a zip beyond which it is no score (own choice)."""

_BROKEN_ZIP = (zipfile.BadZipFile, zipfile.LargeZipFile, zlib.error, EOFError, OSError, ValueError, RuntimeError)
# RuntimeError: an encrypted file, or (its child NotImplementedError) a compression that zipfile does not know.


def score_tree(data: bytes) -> Element:
    """Return the score's root element of a .musicxml or .mxl file.

    Raises:
        NotImported: the file is no MusicXML, is damaged, too large or tries tricks.
    """
    xml = _unpacked(data) if data[:2] == b"PK" else data
    return read_tree(xml)


def read_tree(data: bytes) -> Element:
    """Return the root element of an XML text.

    Raises:
        NotImported: the XML is damaged, too large, or declares entities.
    """
    # Each element opens with a sign of its own, so that counting signs bounds the tree before it grows.
    if len(data) > LARGEST or data.count(b"<") > 2 * MOST_ELEMENTS:
        raise NotImported("the file is far too large for a lead sheet", "is it the right file?")
    builder = TreeBuilder()
    parser = expat.ParserCreate()
    parser.buffer_text = True
    parser.StartElementHandler = builder.start
    parser.EndElementHandler = builder.end
    parser.CharacterDataHandler = builder.data
    parser.EntityDeclHandler = _no_entities
    try:
        parser.Parse(data, True)
        return _shallow(builder.close())
    except expat.ExpatError as error:
        found = f"line {error.lineno}, column {error.offset + 1}: the XML is damaged ({expat.ErrorString(error.code)})"
        raise NotImported(found, "export it again as MusicXML") from None
    except (LookupError, ValueError, AssertionError):
        # An encoding that nobody knows, or a text that ends before its elements do.
        raise NotImported("the file cannot be read as XML", "export it again as MusicXML, in UTF-8") from None


def _shallow(root: Element) -> Element:
    """Return the root of a tree that is no deeper than a score needs, so that nobody walks too deep later."""
    level = [root]
    for _ in range(DEEPEST):
        level = [child for element in level for child in element]
        if not level:
            return root
    raise NotImported("the XML is far too deep for a lead sheet", "is it the right file?")


def _no_entities(*_: object) -> None:
    raise NotImported("the XML declares entities, which a lead sheet never needs", "export it again as MusicXML")


def _unpacked(data: bytes) -> bytes:
    """Return the score inside a compressed file; nothing is written to a disk, so no name in it can lead elsewhere."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            if len(archive.infolist()) > MOST_FILES:
                raise NotImported("the .mxl holds far too many files", "export it again")
            return _member(archive, _score_name(archive))
    except _BROKEN_ZIP:
        raise NotImported("the .mxl is damaged or locked", "export it again, or as plain .musicxml") from None


def _score_name(archive: zipfile.ZipFile) -> str:
    names = archive.namelist()
    if "META-INF/container.xml" in names:
        container = read_tree(_member(archive, "META-INF/container.xml"))
        named = next((item.get("full-path", "") for item in container.iter("rootfile")), "")
        if named in names:
            return named
    scores = [name for name in names if name.endswith((".musicxml", ".xml")) and not name.startswith("META-INF")]
    if not scores:
        raise NotImported("the .mxl holds no score", "export it again, or as plain .musicxml")
    return scores[0]


def _member(archive: zipfile.ZipFile, name: str) -> bytes:
    """Unpack one file, at most up to the limit whatever it says of itself."""
    with archive.open(name) as member:
        content = member.read(LARGEST + 1)
    if len(content) > LARGEST:
        raise NotImported("the .mxl unpacks to far more than a lead sheet", "is it the right file?")
    return content


def text_of(element: Element | None, name: str, default: str = "") -> str:
    """Return the text of the first child of that name, trimmed."""
    found = None if element is None else element.find(name)
    return (found.text or "").strip() if found is not None else default


def whole(text: str | None, default: int = 0) -> int:
    """Return a whole number from text such as "-1" or "1.0", within what music needs; the default otherwise."""
    try:
        number = round(float(text or ""))
    except (ValueError, OverflowError):
        return default
    return number if abs(number) < 1_000_000 else default
