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

CONTAINER = "META-INF/container.xml"
"""The file that names the score in an archive. Source: MusicXML 4.0, compressed files (W3C)."""

_BROKEN_ZIP = (zipfile.BadZipFile, zipfile.LargeZipFile, zlib.error, EOFError, OSError, ValueError, RuntimeError)
# RuntimeError: an encrypted file, or (its child NotImplementedError) a compression that zipfile does not know.


def score_tree(data: bytes) -> Element:
    """Return the score's root element of a .musicxml or .mxl file.

    Raises:
        NotImported: the file is no MusicXML, is damaged, too large or tries tricks.
    """
    return _score_in_archive(data) if data[:2] == b"PK" else read_tree(data)


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


def _score_in_archive(data: bytes) -> Element:
    """Return the root of the score inside a compressed file.

    Nothing is written to a disk, so no name in it can lead elsewhere.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            if len(archive.infolist()) > MOST_FILES:
                raise NotImported("the .mxl holds far too many files", "export it again")
            name = _score_name(archive)
            xml = _member(archive, name)
    except _BROKEN_ZIP:
        raise NotImported("the .mxl is damaged or locked", "export it again, or as plain .musicxml") from None
    try:
        return read_tree(xml)
    except NotImported as error:
        raise NotImported(f"{_shown(name)} in the .mxl: {error.found}", error.hint) from None


def _score_name(archive: zipfile.ZipFile) -> str:
    """Return the name of the score in an archive: the one its container names, else the only one there is."""
    names = archive.namelist()
    scores = [name for name in names if name.endswith((".musicxml", ".xml")) and not name.startswith("META-INF")]
    try:
        named = _named_by_container(archive, names)
    except NotImported as error:
        if len(scores) != 1:
            raise NotImported(f"{CONTAINER} in the .mxl: {error.found}", error.hint) from None
        named = ""
    if named in names:
        return named
    if not scores:
        raise NotImported("the .mxl holds no score", "export it again, or as plain .musicxml")
    return scores[0]


def _named_by_container(archive: zipfile.ZipFile, names: list[str]) -> str:
    """Return the score's name as the container says it, "" where it says none."""
    if CONTAINER not in names:
        return ""
    container = read_tree(_member(archive, CONTAINER))
    # The element may carry a prefix of its namespace.
    roots = (item for item in container.iter() if item.tag.rsplit(":", 1)[-1] == "rootfile")
    return next((item.get("full-path", "") for item in roots), "")


def _member(archive: zipfile.ZipFile, name: str) -> bytes:
    """Unpack one file, at most up to the limit whatever it says of itself."""
    try:
        with archive.open(name) as member:
            content = member.read(LARGEST + 1)
    except _BROKEN_ZIP:
        found = f"{_shown(name)} in the .mxl is damaged or locked"
        raise NotImported(found, "export it again, or as plain .musicxml") from None
    if len(content) > LARGEST:
        raise NotImported("the .mxl unpacks to far more than a lead sheet", "is it the right file?")
    return content


def _shown(name: str) -> str:
    return "".join(sign for sign in name if sign.isprintable())[:60]


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
