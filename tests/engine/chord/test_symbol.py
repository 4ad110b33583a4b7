import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.chord.house_rules import HouseRules
from engine.chord.symbol import read_symbol
from engine.errors import SymbolError

DIALECTS = {
    "1 3 5": "C Cmaj CMaj CM Cma CMa CMA Cmajor CMajor",
    "1 b3 5": "Cm C- Cmi Cmin Cminor",
    "1 3 5 7": "CΔ C^ Cmaj(add7) Cmaj7 CM7 CMA7 CMAJ7 Cma7 CΔ7 C^7 Cj7",
    "1 b3 5 b7": "Cm7 C-7 Cmi7 CMI7 CMIN7 Cmin7",
    "1 3 b5 b7": "C7b5 C7-5 C7(b5) C7♭5",
    "1 b3 b5 b7": "Cm7b5 Cm7-5 Cø Cø7 Ch Ch7 C-7b5",
    "1 b3 b5": "Cdim C° Co",
    "1 b3 b5 bb7": "Cdim7 C°7 Co7",
    "1 3 #5": "C+ C+5 Caug C(#5)",
    "1 3 #5 b7": "C+7 C7+ C7#5 Caug7",
    "1 3 5 b7 #9": "C7+9 C7#9 C7(#9) C7#2 C9#9",
    "1 3 5 b7 #11": "C7+11 C7#11 C7#4",
    "1 3 5 6": "C6 Cadd6",
    "1 b3 5 6 9": "Cm6/9 C-6/9 C-69",
    "1 3 5 6 9": "C69 C6/9 C6add9",
    "1 3 5 9": "C2 Cadd9 Cadd2 CMadd9 CMA(add9) C9no7 Cmaj9no7",
    "1 3 5 11": "Cadd11 Cadd4",
    "1 4 5": "Csus Csus4 C4",
    "1 4 5 b7": "C7sus C7sus4",
    "1 4 5 b7 9": "C9sus C9sus4",
    "1 3 b5 #5 b7 b9 #9": "C7alt Calt",
    "1 3 b5 #5 b7": "C7b5#5 C7(#5,b5)",
    "1 5": "C5 C(no3) Cpower",
    "1 5 9": "Csus2 C2no3 Cadd9no3",
    "1 4 5 9": "Csus24 Csus42 Csus2/4 Csus4/2 Csus2sus4",
    "1 b3 5 7": "CmM7 Cm(maj7) C-Δ CmMaj7 Cm/maj7 Cm/M7",
    "1 b3 b5 7": "Cdim(maj7) CoM7 Comaj7 Co(maj7) Co/maj7 C°M7",
    "1 3 5 7 9": "Cmaj9 CMA9 Cj9",
    "1 3 5 7 #11": "Cmaj7#11 CMA7(#11)",
    "1 b3 5 9": "Cm2 Cmadd9 Cm(add9) C-add9 CMI(add9)",
    "1 b3 5 b7 b9": "Cm7b9",
    "1 3 5 b7 9 13": "C13",
    "1 b3 5 b7 9 11": "Cm11",
    # An altered tone takes the place of the natural one that a higher number brought along.
    "1 3 5 b7 9 #11": "C9#11 C11#11 C11(#11)",
    "1 3 5 b7 9 11": "C11",
    "1 3 5 b7 9 b13": "C9(b13) C13(b13) C13b13",
    "1 3 5 b7 b9": "C7b9 C9b9 C7b2",
    "1 3 5 b7 b13": "C7b13 C7b6",
    "1 3 b7 b9 #9 #11 b13": "C7(b9,#9,#11,b13) C7b9#9#11b13",
    "1 b7": "C7(omit3,5) C7no3no5",
    "1 5 b7": "C7no3 C7(omit3) Cm7no3",
    "1 3 5 b7 11": "C11no9 C11(omit9)",
    "1 b3 5 b7 9 11 13": "Cm13",
    "1 b3 5 b7 9 13": "Cm13no11",
    "1 3 5 b9": "Caddb9 C(b9)",
    "1 3 5 b7": "C7 Cdom7 C(add7) Cadd7",
    # A sixth over a seventh sounds above it.
    "1 3 5 b7 13": "C7add6 C7(13)",
}


@pytest.mark.parametrize(("degrees", "symbols"), DIALECTS.items())
def test_the_dialects_of_the_trade_mean_the_same(degrees, symbols):
    # Common practice of chart writers.
    assert {read_symbol(symbol).degrees for symbol in symbols.split()} == {tuple(degrees.split())}


@pytest.mark.parametrize("symbol", ["C7aug", "C7#5"])
def test_only_a_plus_after_the_seventh_can_mean_the_seventh(symbol):
    assert read_symbol(symbol, HouseRules(plus="maj7")).degrees == ("1", "3", "#5", "b7")
    assert read_symbol(symbol).reading is None


@pytest.mark.parametrize(
    "symbol",
    ["Cadd5", "Cadd3", "C(addb5)", "C7add7", "Cx", "C7 x", "C~", "Cadd", "Cno", "C7-", "C7b5+", "Cmmaj", "Cm+7",
     "Cm(bb5)", "Cj", "Cdom", "Chm"],
)  # fmt: skip
def test_what_adds_nothing_to_a_chord_is_refused(symbol):
    with pytest.raises(SymbolError):
        read_symbol(symbol)


@pytest.mark.parametrize(
    ("signs", "plain"),
    [("B♭", "Bb"), ("F♯", "F#"), ("C−7", "C-7"), ("C–7", "C-7"), ("Cº7", "C°7"), ("CØ7", "Cø7"), ("C△7", "CΔ7"),
     ("C∆7", "CΔ7"), ("C7♭9", "C7b9"), ("C7♯9", "C7#9"), ("C\\E", "C/E")],
)  # fmt: skip
def test_the_signs_of_print_are_those_of_the_keyboard(signs, plain):
    # Common practice: one sign of music or of a typeface for each one that a keyboard has.
    printed, typed = read_symbol(signs), read_symbol(plain)
    assert (printed.root, printed.bass, printed.tones) == (typed.root, typed.bass, typed.tones)


def test_a_sharp_before_the_number_belongs_to_the_root_unless_it_stands_in_brackets():
    assert str(read_symbol("C#9").root) == "C#"
    assert read_symbol("C(#9)").degrees == ("1", "3", "5", "#9")


@pytest.mark.parametrize(
    ("symbol", "bass"), [("C/E", "E"), ("C on E", "E"), ("C\\E", "E"), ("C6/9", "C"), ("C6/9/G", "G"), ("Am7/G", "G")]
)
def test_a_slash_names_the_bass_but_not_in_a_six_nine(symbol, bass):
    assert str(read_symbol(symbol).bass) == bass


def test_a_bracket_round_a_number_adds_it_alone_to_a_half_diminished_chord():
    assert read_symbol("Cø11").degrees == read_symbol("Cm7(b5)11").degrees == ("1", "b3", "b5", "b7", "9", "11")
    for symbol in ("Cø(11)", "Ch(11)", "C(m7b5)(11)"):
        assert read_symbol(symbol).degrees == ("1", "b3", "b5", "b7", "11")


def test_a_two_says_whether_the_third_stays():
    assert read_symbol("C2").reading == "2 read as a ninth added to the triad"
    assert read_symbol("C2", HouseRules(two="no third")).reading == "2 read as a ninth without the third"


def test_a_two_of_a_minor_chord_is_a_ninth_added_by_any_rules():
    assert read_symbol("Cm2", HouseRules(two="no third")) == read_symbol("Cm2")
    assert read_symbol("Cm2").reading == "2 read as a ninth added to the triad"


@pytest.mark.parametrize("symbol", ["N.C.", "NC", "n.c.", "n.c", "tacet", "No chord", " tacet "])
def test_no_chord_is_none(symbol):
    assert read_symbol(symbol) is None


@pytest.mark.parametrize("symbol", ["Cmaj", "Co", "C°", "C2", "Cm2", "C-2", "C4", "Csus", "C7+", "C-5"])
def test_a_doubtful_symbol_says_how_it_was_taken(symbol):
    assert read_symbol(symbol).reading


def test_two_doubts_of_one_symbol_are_both_told():
    assert read_symbol("C4 2").reading == "4 read as sus4; 2 read as a ninth added to the triad"


@pytest.mark.parametrize(
    "symbol", ["C", "Cm7", "Cdim", "Cmaj7", "C7sus4", "C/E", "C7-5", "C+5", "C2no3", "Csus24", "Csus42"]
)
def test_a_clear_symbol_has_no_reading(symbol):
    assert read_symbol(symbol).reading is None


@pytest.mark.parametrize(
    ("symbol", "rules", "degrees"),
    [
        ("Co", HouseRules(o="dim7"), "1 b3 b5 bb7"),
        ("Cmaj", HouseRules(maj="maj7"), "1 3 5 7"),
        ("C2", HouseRules(two="no third"), "1 5 9"),
        ("Csus", HouseRules(sus="9sus"), "1 4 5 b7 9"),
        ("C7+", HouseRules(plus="maj7"), "1 3 5 7"),
        ("c7", HouseRules(lower_minor=True), "1 b3 5 b7"),
    ],
)
def test_house_rules_settle_a_doubt(symbol, rules, degrees):
    assert set(read_symbol(symbol, rules).degrees) == set(degrees.split())


@pytest.mark.parametrize(
    ("symbol", "names", "english"),
    [("H7", "german", "B"), ("B7", "german", "Bb"), ("Es7", "german", "Eb"), ("As", "german", "Ab"),
     ("Fis7", "german", "F#"), ("Cism7", "german", "C#"), ("Rem7", "solfege", "D"), ("Sib", "solfege", "Bb"),
     ("Fa#", "solfege", "F#"), ("Do", "solfege", "C")],
)  # fmt: skip
def test_german_and_fixed_do_names(symbol, names, english):
    assert str(read_symbol(symbol, HouseRules(names=names)).root) == english


@pytest.mark.parametrize(
    ("symbol", "column", "hint"),
    [("Bbmaj77", 7, "Bbmaj7"), ("H7", 1, "german"), ("c7", 1, "C7"), ("C/x", 3, "bass"), ("Cadd", 5, "9 is missing"),
     ("", 1, "missing"),
     ("Cm5", 3, "clear already"), ("C3", 2, "third is clear"), ("C" * 70, 1, "too long"),
     ("C7no4", 5, "left out"), ("Cm6/", 5, "slash"), ("C-3", 3, "third is clear"), ("C+3", 3, "third is clear"),
     ("C(add9,add11,no5)7 7", 20, "second 7"),
     ("C(add9,add11,no5)addsus4", 21, "no degree"), ("C(add9,add11,b5)aug", 17, "altered already")],
)  # fmt: skip
def test_an_unreadable_symbol_says_where_and_what_to_try(symbol, column, hint):
    with pytest.raises(SymbolError) as raised:
        read_symbol(symbol)
    assert raised.value.column == column
    assert hint in raised.value.hint


@pytest.mark.parametrize(
    ("symbol", "hint"),
    [("", "a chord symbol is missing"), ("  ", "a chord symbol is missing"), ("C" + "b9" * 40, "too long"),
     ("H7", 'names = "german"'), ("h7", 'names = "german"'), ("am7", "a capital letter: Am7"),
     ("x7", "begins with its root"), ("X7", "begins with its root"), ("Hm", 'say names = "german"')],
)  # fmt: skip
def test_what_has_no_root_is_told_how_a_chord_begins(symbol, hint):
    with pytest.raises(SymbolError) as caught:
        read_symbol(symbol)
    assert hint in caught.value.hint
    assert caught.value.column == 1


def test_sixty_four_characters_are_a_symbol_and_one_more_is_a_line_of_text():
    longest = "C(" + " " * 61 + ")"
    assert read_symbol(longest).degrees == ("1", "3", "5")
    with pytest.raises(SymbolError, match="too long"):
        read_symbol(longest.replace("(", "( "))


@given(
    st.text(max_size=12)
    | st.from_regex(r"[A-G][b#]?(m|maj|dim|7|9|13|sus|add|no|alt|\(|\)|b5|#9|/|\+|-){0,6}", fullmatch=True)
)
def test_any_text_is_a_chord_silence_or_one_clear_error(text):
    try:
        chord = read_symbol(text)
    except SymbolError as error:
        column = error.column
        assert 1 <= column <= len(text) + 2
    else:
        assert chord is None or chord.degrees[0] == "1"


@given(
    root=st.sampled_from(["C", "Db", "F#", "Bb"]),
    quality=st.sampled_from(sorted({*" ".join(DIALECTS.values()).replace("C", "").split()})),
)
def test_the_normal_spelling_of_a_chord_reads_as_the_same_chord(root, quality):
    chord = read_symbol(root + quality)
    again = read_symbol(f"{chord.root}{chord.quality}")
    assert again.tones == chord.tones


@pytest.mark.parametrize(
    ("written", "meant"),
    [("Cmj7", "Cmaj7"), ("Fmj9", "Fmaj9"), ("Ebmj7#11", "Ebmaj7#11"), ("C7M", "Cmaj7"), ("Dm7M", "Dm(maj7)"),
     ("C9M", "Cmaj9"), ("C7M(9)", "Cmaj9"), ("C6(9)", "C6/9"), ("C6,9", "C6/9"), ("C6-9", "C6/9"), ("C-6-9", "Cm6/9"),
     ("C6+9", "C6/9"), ("C-7M", "Cm(maj7)"), ("C+7M", "Cmaj7#5"), ("C(9)", "Cadd9"),
     ("Cm(9)", "Cm(add9)"),
     ("CDIM7", "Cdim7"), ("C7ALT", "C7alt"), ("CSUS4", "Csus4"), ("C∅", "Cm7b5"), ("C∅7", "Cm7b5"), ("C⌀7", "Cm7b5"),
     ("Chalfdim", "Cm7b5"), ("Chdim7", "Cm7b5"), ("CMin7", "Cm7"), ("CMi7", "Cm7"), ("C2sus", "Csus2"),
     ("C7(no3rd)", "C7(no3)"), ("C⁷", "C7"), ("C˚7", "Cdim7"), ("C(add9,11)", "C(add9,add11)")],
)  # fmt: skip
def test_other_ways_to_write_it_are_the_same_chord(written, meant):
    """Common practice of chart writers: Portuguese and French 7M, typed 6-9, the empty set for a half-diminished."""
    assert read_symbol(written).degrees == read_symbol(meant).degrees


def test_a_raised_fifth_over_a_minor_third_keeps_its_name():
    assert read_symbol("Cm#5").quality == "m#5"
    assert read_symbol("Cm7#5").quality == "m7#5"


@pytest.mark.parametrize(
    ("symbol", "column", "hint"),
    [("CøΔ", 3, "m7b5"), ("F//G", 4, "one slash"), ("Cm#7", 3, "maj7"), ("Cm+7", 3, "maj7"), ("B07", 2, "m7b5"),
     ("CO7", 2, "dim7"), ("C7m", 3, "straight after the root"), ("CMm7", 3, "straight after the root"),
     ("C6M", 3, "maj7"), ("C+M", 3, "maj7"), ("Csus#4", 5, "no3"), ("C7/13", 4, "C7(13)"), ("C/m7", 3, "bass")],
)  # fmt: skip
def test_what_players_mean_in_two_ways_is_refused_with_the_way_to_write_it(symbol, column, hint):
    with pytest.raises(SymbolError) as raised:
        read_symbol(symbol)
    assert raised.value.column == column
    assert hint in raised.value.hint
    assert "did you mean" not in raised.value.hint
