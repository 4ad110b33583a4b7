# ruff: noqa: E501 (a sample is easier to read in one line)
"""Forty-one kinds of pasted charts, one sample each, and the sections and chords as a musician would play them.

The kinds are those that bands send each other (common practice); every chart and every word of it is invented here.
`played` is (section, chords) as played; `doubts` are words that the doubts must have.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Kind:
    """A sample, what is played of it, and what has to be said. `facts` are values of the song."""

    text: str
    played: str
    doubts: tuple[str, ...] = ()
    facts: tuple[tuple[str, str], ...] = ()


VERSE = "Am F C G"

KINDS: dict[str, Kind] = {
    "chords over words without bars": Kind(
        "Harbour Wall\n\nVerse\nAm        F\nThe cranes are asleep by the water\nC         G\nand nobody counts the gulls\n",
        "Verse: Am F C G", ("no bar lines", "no tempo"), (("title", "Harbour Wall"),),
    ),
    "chords over words with bars": Kind(
        "Verse\n| Am       | F        |\nThe cranes are asleep by the water\n| C        | G        |\nand nobody counts the gulls\n",
        "Verse: Am F C G", ("nobody counts the gulls",),
    ),
    "German H": Kind("Strophe:\n| Hm | G | B | F# |\n", "Strophe: Bm G Bb F#", ("H is B natural",)),
    "capo": Kind("Capo on the 2nd fret\nVerse\n| G | Em | C | D |\n", "Verse: A F#m D E"),
    "capo in other words": Kind("(Kapo III)\nVerse\n| G | Em | C | D |\n", "Verse: Bb Gm Eb F"),
    "line ends of another system": Kind("Verse\r\n| Am | F |\r\nChorus\r\n| C | G |\r\n", "Verse: Am F; Chorus: C G"),
    "quoted mail": Kind(
        "Hello Ruth, the chart for Friday:\n> Verse | Am | F | C | G |\n> Chorus | F | G | Am | Am |\nSee you at the quay\n",
        "Verse: Am F C G; Chorus: F G Am Am", ("Hello Ruth", "See you at the quay"),
    ),
    "mail quoted twice": Kind(
        ">> Verse\n>> | Am | F | C | G |\n> thanks!\n", "Verse: Am F C G", ("thanks!",),
    ),
    "label and chords on one line": Kind(
        "INTRO: C - Am - F - G (2x)\nVERSE: F - G - C - Am\n", "Intro: C Am F G; Intro: C Am F G; Verse: F G C Am", ("no bar lines",),
    ),
    "times behind a line of bars": Kind("Verse\n| G | D | x2\n| Em | C |\n", "Verse: G D G D Em C", ("x2",)),
    "times in words": Kind("Verse\n| G | D | (3 times)\n", "Verse: G D G D G D", ("3 times",)),
    "lines with numbers": Kind("1. Am F\n2. C G\n", "A: Am F C G", ("no bar lines",)),
    "lines of bars with numbers": Kind(
        "Verse\n1. | Am | F | C | G |\n2. | Am | F | G | G |\n", "Verse: Am F C G Am F G G",
    ),
    "degrees without bars": Kind("Key: G\nVerse\n1 5 6- 4\n", "Verse: G D E- C", ("no bar lines",)),
    "degrees in Roman letters": Kind("Key: C\nVerse\nI - vi - IV - V\n", "Verse: C Am F G", ("no bar lines",)),
    "the form in words": Kind(
        "Intro\n| Dm | C |\nA\n| Am | F |\nB\n| G | E7 |\nForm: Intro A A B A\n", "Intro: Dm C; A: Am F; A: Am F; B: G E7; A: Am F",
    ),
    "a section that is repeated": Kind(
        "Verse\n| Am | F |\nChorus\n| C | G |\nRepeat Verse\nChorus twice\n",
        "Verse: Am F; Chorus: C G; Verse: Am F; Chorus: C G; Chorus: C G", ("Repeat Verse", "Chorus twice"),
    ),
    "a solo over a section": Kind(
        "Verse\n| Am | F |\nChorus\n| C | G |\nSolo over verse\n", "Verse: Am F; Chorus: C G; Verse: Am F", ("Solo over verse",),
    ),
    "segno and coda": Kind(
        "Segno\nA | Am | F | To Coda\nB | C | G | D.S. al Coda\nCoda | Dm | Am |\n", "A: Am F; B: C G; A: Am F; Coda: Dm Am",
    ),
    "a meter inside a bar line": Kind("Verse\n| Am | F | 2/4 G | 4/4 C |\n", "Verse: Am F G C"),
    "tablature": Kind(
        "Verse\n| Am | F |\ne|--0--1--3---|\nB|--1--1--1---|\nG|--2--2--0---|\n", "Verse: Am F", ("tablature",),
    ),
    "a pickup": Kind("Verse\n(E7) | Am | F | C | G |\n", "Verse: E7 Am F C G", ("pickup",)),
    "tabs in place of spaces": Kind("Verse\tAm\tF\tC\tG\nChorus\tF\tG\tAm\tAm\n", "Verse: Am F C G; Chorus: F G Am Am"),
    "spaces that do not break": Kind(
        "Verse\n|\u00a0Am\u00a0|\u00a0F\u00a0|\u2003C\u2003|\u202fG\u202f|\n", "Verse: Am F C G",
    ),
    "sharps and flats as signs": Kind(
        "Key: B♭\nVerse\n| B♭maj7 | F♯m7♭5 | G7♯9 | E♭ |\n", "Verse: B♭maj7 F♯m7♭5 G7♯9 E♭", (), (("key", "Bb"),),
    ),
    "silence in three hands": Kind("Verse\n| Am | N.C. | NC | (no chord) |\n", "Verse: Am N.C. N.C. N.C."),
    "slashes as beats": Kind("Verse\n| C / / / | F / G / | Am/// |\n", "Verse: C F G Am"),
    "repeats of a bar": Kind("Verse\n| C | % | F - - G | % |\n", "Verse: C C F G F G"),
    "two columns": Kind(
        "Verse                      Chorus\n| Am | F | C | G |         | F | G | Am | Am |\n| Am | F | G | G |\n",
        "Verse: Am F C G Am F G G; Chorus: F G Am Am",
    ),
    "headings with colons": Kind("Verse:\n| Am | F |\nChorus:\n| C | G |\n", "Verse: Am F; Chorus: C G"),
    "headings in brackets": Kind("[Verse 1]\n| Am | F |\n[Chorus]\n| C | G |\n", "Verse 1: Am F; Chorus: C G"),
    "headings in round brackets": Kind("(Verse)\n| Am | F |\n(Chorus)\n| C | G |\n", "Verse: Am F; Chorus: C G"),
    "headings that are underlined": Kind(
        "Verse\n-----\n| Am | F |\nChorus\n======\n| C | G |\n", "Verse: Am F; Chorus: C G",
    ),
    "headings between stars": Kind("*** Verse ***\n| Am | F |\n== Chorus ==\n| C | G |\n", "Verse: Am F; Chorus: C G"),
    "endings on lines of their own": Kind(
        "Verse\n||: Am | F | C |\n[1. G | E7 :||\n[2. G | Am ||\n", "Verse: Am F C G E7 Am F C G Am",
    ),
    "endings in words": Kind(
        "Verse\n|: Am | F | C |\n1st ending: | G | E7 :|\n2nd ending: | G | Am |\n", "Verse: Am F C G E7 Am F C G Am",
    ),
    "the key in words": Kind("Gulls, in the key of B flat minor\nVerse\n| Bbm | Gb |\n", "Verse: Bbm Gb", (), (("key", "Bbm"),)),
    "the tempo in words": Kind(
        "Tempo: slow waltz, about 88\n3/4\nVerse\n| Am | F |\n", "Verse: Am F", ("slow waltz",), (("tempo", "88.0"),),
    ),
    "a tempo of words alone": Kind("Andante\nVerse\n| Am | F |\n", "Verse: Am F", ("no tempo",)),
    "words in the bars": Kind("Verse\n| Am (softly) | F let ring | C | G |\n", "Verse: Am F C G", ("softly", "let ring")),
    "chords inside the words": Kind(
        "Verse\n[Am]The cranes are a[F]sleep by the water\n", "Verse: Am F", ("no bar lines",),
    ),
}  # fmt: skip
