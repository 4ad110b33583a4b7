"""From what follows the root to the chord's degrees: reading sign by sign, whatever the dialect.

Source: the dialects are common practice of chart writers; the degrees agree with published parsers and textbook
formulas, see tests/outside/test_chord_symbols.py.
"""

from dataclasses import dataclass, field

from engine.chord.house_rules import READ_AS, HouseRules
from engine.chord.tokens import Token, Unread, tokens

ORDER = ("1", "b3", "3", "4", "b5", "5", "#5", "6", "bb7", "b7", "7", "b9", "9", "#9", "11", "#11", "b13", "13")
"""Degrees as a chord is spoken."""


@dataclass(slots=True)
class _Reading:
    """A chord while it is read.

    `third` and `seventh` as degrees, None for none; `fourth` and `second` take the third's place; `major`, `delta` and
    `diminished` say which seventh a number means; `started` once anything has been read, `last` is the kind read last.
    """

    rules: HouseRules
    third: str | None
    fifths: list[str] = field(default_factory=lambda: ["5"])
    sixth: bool = False
    seventh: str | None = None
    colours: list[str] = field(default_factory=list)
    fourth: bool = False
    second: bool = False
    major: bool = False
    delta: bool = False
    diminished: bool = False
    omitted: set[str] = field(default_factory=set)
    doubts: list[str] = field(default_factory=list)
    started: bool = False
    last: str = ""

    def doubt(self, rule: str) -> None:
        """Note how a symbol was taken that players read in different ways."""
        self.doubts.append(READ_AS[rule, getattr(self.rules, rule)])

    def degrees(self) -> tuple[str, ...]:
        """Return the degrees in `ORDER`."""
        thirds = [self.third] if self.third and not (self.fourth or self.second) else []
        sus = (["4"] if self.fourth else []) + (["9"] if self.second else [])
        sixth = ["6"] if self.sixth else []
        seventh = [self.seventh] if self.seventh else []
        found = {"1", *thirds, *sus, *self.fifths, *sixth, *seventh, *self.colours} - self.omitted
        if {"b9", "#9", "#11", "b13"} <= found:
            found.discard("5")
        return tuple(degree for degree in ORDER if degree in found)


def read_degrees(text: str, rules: HouseRules, minor: bool) -> tuple[tuple[str, ...], str | None]:
    """Return the degrees that `text` (after the root, without bass) stands for, and the reading where there is doubt.

    Raises:
        Unread: a part that means nothing.
    """
    reading = _Reading(rules, third="b3" if minor else "3")
    pending = ""
    for token in tokens(text):
        if token.kind in ("add", "omit"):
            pending = token.kind
        elif pending:
            _pended(reading, pending, token)
            end = token.at + len(token.word)
            goes_on = text[end : end + 1] == "," and (pending == "omit" or text[end + 1 : end + 2].isdigit())
            pending = pending if goes_on else ""
        else:
            _take(reading, token)
        first_figure = not reading.started and token.word[0] in "+-"
        reading.last = token.word.lstrip("+-") if token.kind == "number" or first_figure else token.kind
        reading.started = True
    if pending:
        raise Unread(len(text), f"{pending} what? A degree such as 9 is missing")
    _finish(reading)
    return reading.degrees(), "; ".join(reading.doubts) or None


def _pended(reading: _Reading, pending: str, token: Token) -> None:
    """Take the degree after add or omit."""
    if token.kind not in ("number", "altered"):
        raise Unread(token.at, f"{token.word!r} after {pending} is no degree")
    if pending == "omit":
        omitted = {"3": {"3", "b3"}, "5": {"5"}, "7": {"b7", "7"}, "9": {"9"}, "11": {"11"}}.get(token.word)
        if omitted is None:
            raise Unread(token.at, f"{token.word!r} cannot be left out")
        reading.omitted |= omitted
        return
    _colour(reading, token.word, token.at)


def _take(reading: _Reading, token: Token) -> None:
    kind, word, at, alone = token.kind, token.word, token.at, token.alone
    if kind == "major":
        _major(reading, word, at, alone)
    elif kind == "minor" or (kind == "minus" and not reading.started):
        if reading.major or reading.last.isdigit():
            raise Unread(at, "write m straight after the root, and a major seventh as maj7", sure=True)
        reading.third = "b3"
    elif kind == "half":
        reading.third, reading.fifths, reading.seventh = "b3", ["b5"], "b7"
    elif kind == "diminished":
        _diminish(reading, word, alone)
    elif kind in ("augmented", "plus"):
        _augment(reading, kind, word, at)
    elif kind == "alt":
        reading.seventh, reading.fifths = "b7", ["b5", "#5"]
        reading.colours += ["b9", "#9"]
    elif kind == "sus":
        _suspend(reading, word.lower(), alone)
    elif kind == "power":
        reading.third = None
    elif kind == "sixnine":
        reading.sixth = True
        reading.colours.append("9")
        if word[1] in "+-":
            reading.doubts.append(f"{word} read as six-nine")
    elif kind == "altered":
        _alter(reading, word, at, alone)
    elif kind == "number":
        _extend(reading, word, at, token.inside, alone)
    elif kind == "minus":
        raise Unread(at, "a minus here belongs before a number, as in 7-5")
    # dominant and slash say nothing by themselves.


def _major(reading: _Reading, word: str, at: int, alone: bool) -> None:
    """Take maj and its like: before a number, or after one as in 7M."""
    if reading.third == "b3" and reading.fifths == ["b5"] and reading.seventh == "b7":
        raise Unread(at, "a half-diminished chord has a minor seventh: write m7b5 or dim(maj7)", sure=True)
    if reading.last.isdigit() and reading.seventh == "b7":
        reading.seventh = "7"
        return
    reading.major = True
    reading.delta = word in ("Δ", "^")
    if not alone or reading.delta:
        return
    if at != 0:
        raise Unread(at, f"{word} of what? Write maj7 for a major seventh", sure=True)
    reading.seventh = "7" if reading.rules.maj == "maj7" else None
    reading.doubt("maj")


def _diminish(reading: _Reading, word: str, alone: bool) -> None:
    reading.third, reading.fifths, reading.diminished = "b3", ["b5"], True
    if alone and reading.rules.o == "dim7":
        reading.seventh = "bb7"
    if alone and word != "dim":
        reading.doubt("o")


def _augment(reading: _Reading, kind: str, word: str, at: int) -> None:
    if reading.started and kind == "plus" and reading.seventh == "b7":
        reading.doubt("plus")
        if reading.rules.plus == "maj7":
            reading.seventh = "7"
            return
    if reading.fifths != ["5"]:
        raise Unread(at, f"{word!r} raises a fifth that is altered already")
    reading.fifths = ["#5"]


def _suspend(reading: _Reading, word: str, alone: bool) -> None:
    if word == "sus" and reading.last == "2":
        # 2sus is sus2: the ninth in place of the third.
        reading.second, reading.colours = True, []
        return
    reading.second = "2" in word
    reading.fourth = word != "sus2"
    if word == "sus" and alone and reading.seventh is None:
        if reading.rules.sus == "9sus":
            reading.seventh = "b7"
            reading.colours.append("9")
        reading.doubt("sus")


def _alter(reading: _Reading, word: str, at: int, alone: bool) -> None:
    sign, number = word.rstrip("0123456789"), word.lstrip("b#+-")
    sign = {"+": "#", "-": "b"}.get(sign, sign)
    if sign == "#" and number == "7" and (reading.started or word[0] == "#"):
        raise Unread(at, "a major seventh is written maj7, a raised fifth #5", sure=True)
    if number in ("2", "4") and reading.last == "sus":
        raise Unread(at, "an altered tone beside no third is written as in (#11,no3)", sure=True)
    if not reading.started and word[0] == "-" and number != "5":
        reading.third = "b3"
        _extend(reading, number, at + 1, inside=False, alone=alone)
    elif not reading.started and word[0] == "+" and number != "5":
        reading.fifths = ["#5"]
        _extend(reading, number, at + 1, inside=False, alone=alone)
    elif number == "5":
        if not reading.started and word[0] == "-":
            reading.doubts.append("-5 read as a flat fifth")
        altered = sign + "5"
        reading.fifths = [altered] if reading.fifths == ["5"] else [*reading.fifths, altered]
    else:
        _colour(reading, sign + number, at)


def _extend(reading: _Reading, word: str, at: int, inside: bool, alone: bool) -> None:
    """Take a number: the first one stacks thirds up to it, a later one adds its tone alone."""
    stacked = reading.seventh is not None and not (not reading.colours and reading.fifths == ["b5"] and not inside)
    if word == "5":
        if reading.started and not reading.major:
            raise Unread(at, "a fifth here is clear already")
        reading.third = None
    elif word == "2":
        _second(reading, alone)
    elif word == "4":
        reading.fourth = True
        reading.doubts.append("4 read as sus4")
    elif word == "3":
        raise Unread(at, "a third is clear already; write no3 to leave it out")
    elif word == "6":
        reading.sixth = True
    elif reading.seventh is None and word != "7" and (reading.sixth or (inside and not reading.major)):
        _colour(reading, word, at)
    elif stacked:
        if word == "7":
            raise Unread(at, "a second 7")
        _colour(reading, word, at)
    else:
        reading.seventh = reading.seventh or ("7" if reading.major else "bb7" if reading.diminished else "b7")
        if word in ("9", "11", "13"):
            reading.colours.append("9")
        if word == "11" or (word == "13" and reading.third == "b3"):
            reading.colours.append("11")
        if word == "13":
            reading.colours.append("13")


def _second(reading: _Reading, alone: bool) -> None:
    major = reading.third == "3"
    if reading.rules.two == "no third" and major:
        reading.second = True
    else:
        reading.colours.append("9")
    if alone and major:
        reading.doubt("two")
    elif alone:
        reading.doubts.append(READ_AS["two", "add9"])


def _colour(reading: _Reading, word: str, at: int) -> None:
    """Add one tone: an altered ninth takes the place of a natural one that a higher number brought along."""
    known = {"2": "9", "4": "11", "b2": "b9", "#2": "#9", "#4": "#11", "b6": "b13"}
    degree = known.get(word, word)
    if degree == "6":
        degree = "13" if reading.seventh else "6"
    if degree == "6":
        reading.sixth = True
        return
    if degree == "7" and reading.seventh is None:
        reading.seventh = "7" if reading.major else "b7"
        return
    if degree not in ORDER[11:]:
        raise Unread(at, f"{word!r} is no tone that a chord has")
    if degree in ("b9", "#9") and "9" in reading.colours:
        reading.colours.remove("9")
    if degree == "#11" and "11" in reading.colours:
        reading.colours.remove("11")
    if degree == "b13" and "13" in reading.colours:
        reading.colours.remove("13")
    reading.colours.append(degree)


def _finish(reading: _Reading) -> None:
    if reading.delta and reading.seventh is None and not reading.sixth:
        reading.seventh = "7"
    if reading.major and reading.seventh is None and reading.third == "b3" and not reading.delta:
        raise Unread(0, "minor and major at once: write m(maj7)")
