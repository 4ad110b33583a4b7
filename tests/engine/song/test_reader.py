"""Song files as players write them, and everything that can be wrong with one."""

import pytest

from engine.errors import ChartError
from engine.song.reader import read_song, song_from_chart
from tests.engine.song.songs import LANTERN, faults, said, short


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
        ("Cm7 F7", "Cm7 F7 G7", 24, 12, ["3 chords", "as in Cm7 / F7 G7"]),
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
    assert len(found) == 1, said(text)
    assert (found[0].line, found[0].column) == (line, column), str(found[0])
    for word in words:
        assert word in str(found[0])


def test_a_repeat_without_an_opening_sign_is_no_mistake() -> None:
    assert not faults(LANTERN.replace("||: Abmaj7", "| Abmaj7", 1))


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


def test_an_endless_roadmap_is_refused() -> None:
    bars = "||: " + "C F G C | " * 30 + " C :|| x99"
    assert "look at the times" in said(f'roadmap = "A x99"\n{short(bars)}')


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


def test_signs_that_would_upset_a_terminal_are_left_out_of_what_is_shown() -> None:
    song = read_song(short("| C |", 'cue = "a\\u001b[2Jb\\nc"'), "")
    assert song.sections[0].cue == "a [2Jb c"
