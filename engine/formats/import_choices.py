"""How the doubtful of an import is meant: answers for the whole song, and the choices that one key flips."""

from dataclasses import dataclass, replace

from engine.chord.house_rules import CHOICES, READ_AS, HouseRules

MOST_NAMED = 6
"""Symbols that a doubt names before it says that there are more (own choice)."""


@dataclass(frozen=True, slots=True)
class Answers:
    """How a file is to be read where it does not say.

    Args:
        per_bar: chords in a bar that is proposed, where text has no bar lines: 1 to 4.
        reading: house rules as in a song file's [reading] table: (("two", "no third"),).
        key: the key of text that names none; "" is the likeliest.
        opening: what a chord before the first bar line is: pickup or bar.
    """

    per_bar: int = 1
    reading: tuple[tuple[str, str], ...] = ()
    key: str = ""
    opening: str = "pickup"

    def rules(self, names: str = "english") -> HouseRules:
        """Return the house rules; `names` holds where the answers say no other."""
        return replace(HouseRules(names=names), **dict(self.reading))  # type: ignore[arg-type]

    def meaning(self, rule: str, said: str) -> "Answers":
        """Return these answers with one house rule changed."""
        others = tuple(pair for pair in self.reading if pair[0] != rule)
        return replace(self, reading=others if said == CHOICES[rule][0] else (*others, (rule, said)))


AS_READ = Answers()
"""Everything as it is read first."""


@dataclass(frozen=True, slots=True)
class Choice:
    """A doubt that can be settled the other way: its line in the list, what it would be `instead`, the answers then."""

    doubt: str
    instead: str
    answers: Answers


def doubtful_symbols(doubts: tuple[tuple[int, int, str, str], ...], answers: Answers) -> tuple[list[str], list[Choice]]:
    """Return the reader's doubts about symbols, those of one reading in one line, and the choices among them."""
    read: dict[str, list[str]] = {}
    for _, _, symbol, reading in doubts:
        for words in reading.split("; "):
            read.setdefault(words, []).append(symbol)
    lines: list[str] = []
    choices: list[Choice] = []
    for words, symbols in read.items():
        more = " ..." if len(symbols) > MOST_NAMED else ""
        lines.append(f"{', '.join(symbols[:MOST_NAMED])}{more}: {words}")
        choices += _flips(lines[-1], words, answers)
    return lines, choices


def _flips(line: str, words: str, answers: Answers) -> list[Choice]:
    rules = answers.rules()
    for (rule, said), meant in READ_AS.items():
        if meant == words and getattr(rules, rule) == said:
            other = next(choice for choice in CHOICES[rule] if choice != said)
            return [Choice(line, READ_AS[rule, other], answers.meaning(rule, other))]
    return []
