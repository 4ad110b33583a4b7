"""Song files as players write them, and everything that can be wrong with one."""

import contextlib
from fractions import Fraction
from time import perf_counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from songs import DEMO, LANTERN, faults, said, short

from engine.errors import ChartError
from engine.song.reader import read_song, song_from_chart


def test_the_head_of_a_song_is_read() -> None:
    song = read_song(LANTERN, "lantern.toml")
    assert (song.title, song.key, str(song.meter), song.tempo) == ("Low Tide Lantern", "Eb", "4/4", 92.0)
    assert (song.feel, song.count, song.method, song.sound) == ("swing", "two bars", "shell", "pad")
    assert (song.melody, song.source) == ((55, 72), "lantern.toml")


def test_the_roadmap_plays_x3_three_times_in_all() -> None:
    song = read_song(LANTERN, "")
    assert song.roadmap == ("Intro", "Verse", "Verse", "Bridge", "Verse", "Tag", "Tag", "Tag")


def test_without_a_roadmap_the_sections_are_played_in_order() -> None:
    assert read_song(short("| C |", '[sections.B]\nbars = "| F |"'), "").roadmap == ("A", "B")


def test_a_roadmap_may_be_a_list_and_forgets_capitals() -> None:
    text = 'roadmap = ["a x2", "A"]\n' + short("| C |")
    assert read_song(text, "").roadmap == ("A", "A", "A")


def test_a_chord_knows_its_line_and_column() -> None:
    verse = read_song(LANTERN, "").sections[1]
    lines = LANTERN.split("\n")
    for bar in verse.bars:
        for event in bar.events:
            assert lines[event.line - 1][event.column - 1 :].startswith(event.symbol)


def test_a_pin_holds_its_keys_and_fingers() -> None:
    (pin,) = read_song(LANTERN, "").pins
    assert (pin.section, pin.bar, pin.beat) == ("Verse", 3, Fraction(1))
    assert (pin.left, pin.right, pin.left_fingers, pin.right_fingers) == ((41, 48), (56, 63), (5, 1), (1, 4))


def test_a_pin_for_one_hand_leaves_the_other_free() -> None:
    text = short("| C |", '[[pins]]\nsection = "A"\nright = "G4 E4"\nfingers = "5 2"\n')
    (pin,) = read_song(text, "").pins
    assert (pin.left, pin.right, pin.right_fingers) == (None, (64, 67), (2, 5))


def test_of_two_pins_on_one_chord_the_first_holds_and_the_second_is_noted() -> None:
    pins = '[[pins]]\nsection = "A"\nright = "E4 G4"\n[[pins]]\nsection = "A"\nbeat = 1\nright = "G4 C5"\n'
    song = read_song(short("| C |", pins), "")
    assert [pin.right for pin in song.pins] == [(64, 67)]
    assert "pinned further up already" in song.doubts[0][3]


def test_windows_line_ends_and_a_byte_order_mark_change_nothing() -> None:
    text = "\ufeff" + LANTERN.replace("\n", "\r\n")
    assert read_song(text, "") == read_song(LANTERN, "")


@pytest.mark.parametrize(
    ("old", "new", "line", "column", "words"),
    [
        ('title  = "Low Tide Lantern"\n', "", 1, 1, ["no title"]),
        ('key    = "Eb"', 'key    = "H#"', 2, 10, ["no key", "Eb"]),
        ('key    = "Eb"', "key    = 3", 2, 10, ["key is 3", "quotes"]),
        ('"4/4"', '"4/5"', 3, 10, ["no meter"]),
        ("= 92", "= 0", 4, 10, ["tempo is 0", "20 to 400"]),
        ("= 92", "= 4000", 4, 10, ["tempo is 4000"]),
        ("= 92", "= nan", 4, 10, ["tempo is nan"]),
        ("= 92", '= "fast"', 4, 10, ['tempo is "fast"']),
        ('"swing"', '"swinging"', 5, 10, ["feel is", "did you mean swing?"]),
        ('"two bars"', '"three bars"', 6, 10, ["count is", "two bars"]),
        ("Verse x2", "Vrese x2", 7, 19, ["no section Vrese", "did you mean Verse?"]),
        ("Verse x2", "Verse x0", 7, 19, ["how often"]),
        ('lowest = "G3"', 'lowest = "G9x"', 10, 10, ["no note", "C4"]),
        ('highest = "C5"', 'highest = "C2"', 10, 10, ["above the highest"]),
        ('highest = "C5"\n', "", 9, 1, ["no highest"]),
        ('"shell"', '"shel"', 14, 10, ["did you mean shell?"]),
        ('"pad"', '"pads"', 15, 10, ["did you mean pad?"]),
        ("pickup = 1", "pickup = 4", 18, 10, ["less than a bar of 4/4"]),
        ("Cm7 F7", "Cm7 F7x?", 24, 16, ["F7x? is no chord symbol"]),
        ("Cm7 F7", "Cm7 F7 G7", 24, 12, ["3 chords", "with /"]),
        ("||: Abmaj7", "| Abmaj7", 25, 0, []),
        ('key  = "Ab"', 'key  = "Q"', 29, 8, ["no key"]),
        ("bar = 3", "bar = 11", 38, 7, ["no bar 11", "1 to 10"]),
        ("beat = 1", "beat = 2", 39, 8, ["no chord begins on beat 2", "1, 4"]),
        ('section = "Verse"', 'section = "Vers"', 37, 11, ["no section Vers", "did you mean Verse?"]),
        ('"F2 C3"', '"F2 X3"', 40, 13, ["X3 is no note"]),
        ('"Ab3 Eb4"', '"Ab3 Eb9"', 41, 14, ["not on the keyboard"]),
        ('"5 1 / 1 4"', '"5 1 / 1 4 5"', 42, 11, ["3 fingers for 2 keys of the right hand"]),
        ('"5 1 / 1 4"', '"5 6 / 1 4"', 42, 11, ["from 1 to 5"]),
    ],
)
def test_a_mistake_is_said_where_it_stands(old: str, new: str, line: int, column: int, words: list[str]) -> None:
    assert old in LANTERN
    text = LANTERN.replace(old, new, 1)
    found = faults(text)
    if not words:
        assert not found
        return
    assert len(found) == 1, said(text)
    if column:
        assert (found[0].line, found[0].column) == (line, column), str(found[0])
    for word in words:
        assert word in str(found[0])


def test_all_mistakes_are_said_in_one_run_in_the_order_of_the_file() -> None:
    text = (
        LANTERN.replace("= 92", "= 0")
        .replace("Verse x2", "Vrese")
        .replace("F7 |", "Fx7 |")
        .replace("bar = 3", "bar = 0")
    )
    lines = [fault.line for fault in faults(text)]
    assert len(lines) >= 4
    assert lines == sorted(lines)


@pytest.mark.parametrize("key", ["", 'key = "Q"\n'])
def test_a_number_chart_without_a_key_has_that_one_fault(key: str) -> None:
    (fault,) = faults(f'title = "A"\n{key}numbers = true\n[sections.A]\nbars = "| 1 | 4 |"\n')
    assert "key" in fault.found


def test_every_fault_of_a_file_carries_its_name() -> None:
    with pytest.raises(ChartError) as caught:
        read_song(short("| C Q |"), "songs/pier.toml")
    assert str(caught.value).startswith("songs/pier.toml:5:13: ")


@pytest.mark.parametrize(
    ("text", "line", "words"),
    [
        ("title = ", 1, ["not valid TOML"]),
        ('title = "Pier', 1, ["close the text"]),
        ("title = Pier", 1, ["quotes"]),
        ('title = "a"\ntitle = "b"', 2, ["same key"]),
        ('a = 1\nbars = """\n| C |\n', 2, ["never closes"]),
        ("[sections.A]\n[sections.A]\n", 2, ["same table"]),
        ("just words", 1, ["key = value"]),
        ("a = [1, 2", 1, ["not valid TOML"]),
        ("\0", 1, ["not valid TOML"]),
        ("a = " + "[" * 3000, 1, []),
        ("a = " + "9" * 5000, 1, []),
        ("", 1, ["no title"]),
    ],
)
def test_a_half_written_file_is_one_plain_fault(text: str, line: int, words: list[str]) -> None:
    found = faults(text)
    assert found
    assert found[0].line == line, said(text)
    for word in words:
        assert word in said(text)


@pytest.mark.parametrize(
    ("head", "words"),
    [
        ("sections = 3", ["sections is 3"]),
        ("sections = {A = 3}", ["A is 3"]),
        ("sections = {}", ["no sections"]),
        ("pins = 3\n[sections.A]\nbars='|C|'", ["pins is 3"]),
        ("pins = [1]\n[sections.A]\nbars='|C|'", ["[[pins]]"]),
        ("voicing = []\n[sections.A]\nbars='|C|'", ["voicing is a list"]),
        ("melody = 1\n[sections.A]\nbars='|C|'", ["melody is 1"]),
        ("roadmap = 1\n[sections.A]\nbars='|C|'", ["roadmap is 1"]),
        ("roadmap = ''\n[sections.A]\nbars='|C|'", ["plays nothing"]),
        ("count = true\n[sections.A]\nbars='|C|'", ["count is"]),
        ("[sections.A]\nbars = ''", ["bars is empty"]),
        ("[sections.A]\nbars = '|'", ["no bars"]),
        ("[sections.A]", ["no bars"]),
        ("[sections.A]\nbars = 4", ["bars is 4"]),
        ("[sections.A]\nbars='|C|'\npickup = 'x'", ["pickup is"]),
        ("[sections.A]\nbars='||: C :|| x9999'", ["1 to 99"]),
        ("names = 'french'\n[sections.A]\nbars='|C|'", ["names is 'french'"]),
        ("minor_tonic = 3\n[sections.A]\nbars='|C|'", ["1 or 6"]),
    ],
)
def test_a_value_of_the_wrong_kind_is_said(head: str, words: list[str]) -> None:
    text = f'title = "Pier"\nkey = "C"\n{head}\n'
    assert faults(text)
    for word in words:
        assert word in said(text)


def test_an_endless_roadmap_is_refused() -> None:
    bars = "||: " + "C F G C | " * 30 + " C :|| x99"
    assert "look at the times" in said(f'roadmap = "A x99"\n{short(bars)}')


@pytest.mark.parametrize(
    ("text", "key", "hint"),
    [
        ("tempoo = 90\n" + short("| C |"), "tempoo", "did you mean tempo?"),
        (short("| C |", 'bar = "x"'), "bar", "did you mean bars?"),
        (short("| C |", "[voicing]\nmethd = 3"), "methd", "did you mean method?"),
    ],
)
def test_an_unknown_key_is_noted_with_the_nearest_known_one(text: str, key: str, hint: str) -> None:
    (note,) = read_song(text, "").doubts
    assert note[2] == key
    assert hint in note[3]


def test_a_section_that_is_never_played_is_noted() -> None:
    song = read_song('roadmap = "A"\n' + short("| C |", '[sections.B]\nbars = "| F |"'), "")
    assert [(note[2], "never played" in note[3]) for note in song.doubts] == [("B", True)]


def test_a_doubtful_symbol_is_listed_once_with_its_reading() -> None:
    song = read_song(short("| Co | C | Co |"), "")
    assert [note[:3] for note in song.doubts] == [(5, 11, "Co")]


def test_a_typed_chart_is_a_song_of_one_section() -> None:
    song = song_from_chart("| Dm7 | G7 | C6 |", key="C", meter="4/4", tempo=120.0)
    assert (song.title, song.roadmap, len(song.sections[0].bars)) == ("Chart", ("Chart",), 3)


def test_a_fault_of_a_typed_chart_counts_its_columns() -> None:
    with pytest.raises(ChartError) as caught:
        song_from_chart("| Dm7 | G7xx |")
    (fault,) = caught.value.faults
    assert (fault.line, fault.column) == (1, 9)


@pytest.mark.parametrize("bars", ["", "   ", "|", "||: :||"])
def test_a_typed_chart_without_bars_is_refused(bars: str) -> None:
    with pytest.raises(ChartError):
        song_from_chart(bars)


SONGS = [LANTERN, *(file.read_text(encoding="utf-8") for file in sorted((DEMO / "songs").glob("*.toml")))]


@given(st.text(max_size=200))
def test_any_text_is_a_song_or_a_list_of_faults(text: str) -> None:
    for fault in faults(text):
        assert fault.line >= 1
        assert fault.column >= 1


@given(st.text("|:/%[]().,x123 CDm7b#s\n-N", max_size=80))
def test_any_line_of_signs_is_a_chart_or_a_list_of_faults(bars: str) -> None:
    with contextlib.suppress(ChartError):
        assert song_from_chart(bars).sections[0].bars


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(SONGS),
    st.lists(
        st.tuples(st.floats(0, 1), st.integers(0, 12), st.text("|:/%[]()x31.\"\n#=é\t\\',{}", max_size=3)), max_size=5
    ),
)
def test_a_song_with_slips_of_the_pen_is_read_or_its_faults_lie_inside_it(
    text: str, slips: list[tuple[float, int, str]]
) -> None:
    for place, lost, typed in slips:
        start = int(place * len(text))
        text = text[:start] + typed + text[start + lost :]
    lines = text.split("\n")
    for fault in faults(text):
        assert 1 <= fault.line <= len(lines) + 1


def test_signs_that_would_upset_a_terminal_are_left_out_of_what_is_shown() -> None:
    song = read_song(short("| C |", 'cue = "a\\u001b[2Jb\\nc"'), "")
    assert song.sections[0].cue == "a [2Jb c"


@pytest.mark.parametrize(
    "bars",
    [
        "C" * 60_000,
        "C(" + " " * 60_000 + ")",
        "(" * 60_000,
        "|" * 60_000,
        "| C " * 8_000,
        "/" * 60_000,
        "[1" + "," * 60_000,
        "x" * 60_000,
        "%" * 60_000,
    ],
    ids=lambda bars: str(bars[:4]),
)
def test_a_huge_file_is_answered_at_once(bars: str) -> None:
    start = perf_counter()
    assert faults(short(bars))
    assert perf_counter() - start < 10


def test_a_file_of_nothing_but_faults_is_told_as_far_as_anyone_reads() -> None:
    assert 100 <= len(faults(short("| Q " * 5000))) <= 300


def test_a_huge_roadmap_is_answered_at_once() -> None:
    assert faults(f'roadmap = "A{" " * 60_000}x"\n' + short("| C |"))
