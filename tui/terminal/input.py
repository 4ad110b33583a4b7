"""Bytes from the terminal to events: what is no text, no key and no report is passed over, whatever it is."""

import re
from codecs import getincrementaldecoder
from collections.abc import Iterator
from time import monotonic

from textual._xterm_parser import XTermParser
from textual.events import Key
from textual.message import Message

PASTE_LIMIT = 4_000
"""Characters of one paste that are passed on (own choice); no line of ours takes as many."""

PASTE_PAUSE = 2.0
"""Seconds without a byte after which a paste is over, whether its end has come or not: a stray start of a paste must
not keep a pedal dead (own choice)."""

LONGEST = 32
"""Characters of a control sequence that the parser looks at; of a longer one it would make keys."""

_START, _END = "\x1b[200~", "\x1b[201~"
_STRINGS = re.compile(r"\x1b[\]P_^X][^\x07\x1b]*(?:\x07|\x1b\\)")
"""Control strings, the answers to questions that nobody asked. Source: ECMA-48, 5.6."""

_TOKENS = re.compile(r"\x1b\[(?!M|\[)[ -?]*[@-~]|.", re.DOTALL)
"""A whole control sequence or a character. Source: ECMA-48, 5.4; not the old mouse report nor the console's F1."""

_SURROGATES = re.compile("[\ud800-\udfff]")
"""Halves of characters, which cannot be written to a terminal. Source: Unicode 15, 23.6."""

_UNFINISHED = re.compile(r"\x1b(?:\[[ -?]*)?\Z")


class Pastes:
    """Bounds what is pasted: the first characters of it without control characters, then its end."""

    def __init__(self) -> None:
        self._left: int | None = None
        self._held = self._seen = ""
        self._last = 0.0

    def bounded(self, text: str) -> str:
        """Return `text` with no more of a paste than is wanted."""
        parts, self._last = [], monotonic()
        while text:
            piece, text = self._outside(text) if self._left is None else self._inside(text)
            parts.append(piece)
        return "".join(parts)

    def over(self) -> str:
        """Return the end of a paste that has stopped without one, "" when there is none."""
        if self._left is None or monotonic() - self._last < PASTE_PAUSE:
            return ""
        self._left, self._held = None, ""
        return _END

    def _outside(self, text: str) -> tuple[str, str]:
        # The start of a paste may come in two reads.
        seen = self._seen + text
        before, start, _ = seen.partition(_START)
        if not start:
            self._seen = seen[-len(_START) + 1 :]
            return text, ""
        self._seen, self._left = "", PASTE_LIMIT
        cut = len(before) + len(start) - (len(seen) - len(text))
        return text[:cut], text[cut:]

    def _inside(self, text: str) -> tuple[str, str]:
        text, self._held = self._held + text, ""
        body, end, rest = text.partition(_END)
        if not end:
            kept = next((size for size in range(len(_END) - 1, 0, -1) if text.endswith(_END[:size])), 0)
            body, self._held = text[: len(text) - kept], text[len(text) - kept :]
        assert self._left is not None
        body = body.replace("\x1b", "")[: self._left]
        self._left = None if end else self._left - len(body)
        return body + end, rest


class Input:
    """Turns what is read from the terminal into events; no byte makes it fail."""

    def __init__(self) -> None:
        # Bytes that are no UTF-8 are line noise, or keys of a terminal set to something else.
        self._decode = getincrementaldecoder("utf-8")(errors="ignore").decode
        self._parser = XTermParser()
        self._pastes = Pastes()
        self._rest = ""

    def events(self, data: bytes, more: bool = False) -> Iterator[Message]:
        """Yield what `data` says; with `more`, a sequence that is cut off at its end waits for the rest."""
        text = self._rest + _STRINGS.sub("", self._pastes.bounded(self._decode(data)))
        cut = _UNFINISHED.search(text) if more else None
        text, self._rest = (text[: cut.start()], cut.group()) if cut else (text, "")
        for token in _TOKENS.findall(text):
            yield from self._token(token)

    def quiet(self) -> Iterator[Message]:
        """Yield what a pause says: a lone Esc, the end of a paste that has none."""
        rest, self._rest = self._rest + self._pastes.over(), ""
        for token in _TOKENS.findall(rest):
            yield from self._token(token)
        try:
            yield from list(self._parser.tick())
        except Exception:
            self._begin_anew()

    def _token(self, token: str) -> list[Message]:
        # The parser raises whatever it likes on numbers that are no characters: any failure means "no key".
        if len(token) > LONGEST:
            return []
        try:
            found = list(self._parser.feed(token))
        except Exception:
            self._begin_anew()
            return []
        if len(token) > 2 and self._parser._timeout_time is not None:
            # A whole sequence that it does not know: it would give every character of it as a key of its own.
            self._begin_anew()
            return []
        return [event for event in found if not (isinstance(event, Key) and _SURROGATES.search(event.character or ""))]

    def _begin_anew(self) -> None:
        old, self._parser = self._parser, XTermParser()
        for name in ("last_x", "last_y", "mouse_pixels", "terminal_size", "terminal_pixel_size"):
            setattr(self._parser, name, getattr(old, name))
