"""The bars of a section as they stand in its text, and the bar lines between them."""

from dataclasses import dataclass

from engine.song.signs import Sign, signs

LINES = ("bar", "double", "open", "close", "ending", "times")
"""Signs that stand between bars."""


@dataclass(frozen=True, slots=True)
class WrittenBars:
    """`bars` are the signs of each bar, `lines` those before each bar and, the last of them, after all; `text` is what
    they are offsets into."""

    text: str
    bars: tuple[tuple[Sign, ...], ...]
    lines: tuple[tuple[Sign, ...], ...]

    def start(self, bar: int) -> int:
        """Return where a bar (from 0) begins, after its bar line."""
        return self.bars[bar][0].offset

    def end(self, bar: int) -> int:
        """Return where a bar (from 0) ends, before its bar line."""
        return end_of(self.text, self.bars[bar][-1])

    def bar(self, bar: int) -> str:
        """Return what stands in a bar (from 0) with nothing left to the bar before it: `%` and a `/` at its beginning
        give way to the chords they stand for."""
        signs_there = self.bars[bar]
        meter = next((sign for sign in signs_there[:1] if sign.kind == "meter"), None)
        first = signs_there[1 if meter else 0 :]
        if bar and first and first[0].kind == "again":
            words = self._without_meter(bar - 1)
        elif bar and first and first[0].kind == "beat" and (chord := self._chord_before(bar)):
            words = chord + self.text[first[0].offset + 1 : self.end(bar)]
        else:
            return self.text[self.start(bar) : self.end(bar)]
        return self.text[meter.offset : end_of(self.text, meter)] + f" {words}" if meter else words

    def _without_meter(self, bar: int) -> str:
        words, first = self.bar(bar), self.bars[bar][0]
        return words[end_of(self.text, first) - first.offset :].strip() if first.kind == "meter" else words

    def _chord_before(self, bar: int) -> str:
        for place in range(bar - 1, -1, -1):
            chords = [sign.text for sign in self.bars[place] if sign.kind == "chord"]
            if chords:
                return chords[-1]
        return ""


def end_of(text: str, sign: Sign) -> int:
    """Return the offset after a sign; the text of a bracketed one lacks its brackets, so the text is searched."""
    if sign.kind in ("mark", "meter", "beats", "bracket"):
        return text.index(")", sign.offset) + 1
    return sign.offset + len(sign.text)


def written_bars(text: str) -> WrittenBars:
    """Return the bars of a section's text, which reads without a fault."""
    bars: list[list[Sign]] = []
    lines: list[list[Sign]] = [[]]
    inside = False
    for sign in signs(text):
        if sign.kind in LINES:
            if inside:
                lines.append([])
            lines[-1].append(sign)
        elif inside:
            bars[-1].append(sign)
        else:
            bars.append([sign])
        inside = sign.kind not in LINES
    if inside:
        lines.append([])
    return WrittenBars(text, tuple(map(tuple, bars)), tuple(map(tuple, lines)))
