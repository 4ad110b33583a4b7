"""Two versions of a set brought together: each side keeps what it decided, and only the same value is asked about."""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.song.model import Pin, SetList, SetSong
from engine.song.parts import with_part
from tests.tui import charts
from tui.session.merging import ORDER, SONG, Clash, changes, differences, merged, put_back
from tui.session.song_names import named

PIN = Pin("Verse", 1, Fraction(1), (48, 55), (64, 71))
A, B, C, D = (
    SetSong(f"{name}.toml", charts.song(name.upper(), charts.section("Verse", "Cmaj7", "G7")), number=1)
    for name in "abcd"
)
BASE = SetList("Pier", songs=(A, B, C))


def said(place: SetSong, **values: object) -> SetSong:
    return replace(place, song=replace(place.song, **values), steps=())  # type: ignore[arg-type]


def undecided(clash: Clash) -> bool | None:
    return None


def ours(clash: Clash) -> bool | None:
    return True


def theirs(clash: Clash) -> bool | None:
    return False


def of(*songs: SetSong) -> SetList:
    return replace(BASE, songs=songs)


def titles(set_list: SetList) -> str:
    return "".join(place.song.title for place in set_list.songs)


def test_changes_of_different_songs_are_both_kept() -> None:
    both = merged(BASE.songs, of(said(A, tempo=90.0), B, C), of(A, said(B, key="D"), C), undecided)
    assert both.clashes == ()
    assert [place.song.tempo for place in both.set_list.songs] == [90.0, 120.0, 120.0]
    assert [place.song.key for place in both.set_list.songs] == ["C", "D", "C"]


def test_a_tempo_here_and_a_note_there_meet_in_one_song() -> None:
    both = merged(BASE.songs, of(said(A, tempo=90.0), B, C), of(said(A, note="low lights"), B, C), undecided)
    assert both.clashes == ()
    assert (both.set_list.songs[0].song.tempo, both.set_list.songs[0].song.note) == (90.0, "low lights")


@pytest.mark.parametrize(("choose", "tempo"), [(ours, 90.0), (theirs, 150.0), (undecided, 150.0)])
def test_the_same_tempo_changed_twice_is_asked_about(choose: Callable[[Clash], bool | None], tempo: float) -> None:
    both = merged(BASE.songs, of(said(A, tempo=90.0), B, C), of(said(A, tempo=150.0), B, C), choose)
    assert both.set_list.songs[0].song.tempo == tempo
    asked = (Clash((("a.toml", 0), "tempo"), "A, tempo", "90", "150"),)
    assert both.clashes == (asked if choose is undecided else ())


def test_two_sections_voiced_otherwise_on_both_sides_meet_in_one_song() -> None:
    song = replace(A.song, sections=(*A.song.sections, charts.section("Bridge", "F6")))
    base = replace(A, song=song)
    here, there = (replace(base, song=with_part(song, part, "texture", "lean")) for part in ("Verse", "Bridge"))
    both = merged((base,), of(here), of(there), undecided)
    assert both.clashes == ()
    assert [part.manner for part in both.set_list.songs[0].song.sections] == [{"texture": "lean"}] * 2


@pytest.mark.parametrize(("choose", "texture"), [(ours, "lean"), (theirs, "full")])
def test_one_section_voiced_otherwise_on_both_sides_is_asked_about_in_words(
    choose: Callable[[Clash], bool | None], texture: str
) -> None:
    here, there = (replace(A, song=with_part(A.song, "Verse", "texture", value)) for value in ("lean", "full"))
    asked = Clash((("a.toml", 0), "texture of Verse"), "A, texture, Verse", "lean", "full")
    assert merged((A,), of(here), of(there), undecided).clashes == (asked,)
    both = merged((A,), of(here), of(there), choose)
    assert both.set_list.songs[0].song.sections[0].manner == {"texture": texture}


def test_what_is_no_longer_said_of_a_section_is_as_the_song_has_it() -> None:
    lean = replace(A, song=with_part(A.song, "Verse", "texture", "lean"))
    both = merged((lean,), of(A), of(said(lean, tempo=90.0)), undecided)
    assert both.clashes == ()
    assert (both.set_list.songs[0].song.parts, both.set_list.songs[0].song.tempo) == ("", 90.0)


def test_the_same_change_on_both_sides_is_no_clash() -> None:
    both = merged(BASE.songs, of(said(A, tempo=90.0), B, C), of(said(A, tempo=90.0), B, C), undecided)
    assert both.clashes == ()


def test_what_two_versions_decide_otherwise_is_said_with_both_values() -> None:
    here, there = of(said(A, key="D", tempo=90.0), C, B), of(A, B, C, D)
    assert [(one.what, one.ours, one.theirs) for one in differences(there.songs, here.songs)] == [
        ("A, key", "D", "C"),
        ("A, tempo", "90", "120"),
        ("D", "dropped", "in the set"),
        ("the order of the songs", "A, C ...", "A, B ..."),
    ]


def test_notes_of_two_bars_are_both_kept() -> None:
    base = of(said(A, note="Verse bar 1: wait"), B, C)
    mine = of(said(A, note="Verse bar 1: wait\nVerse bar 2: softer"), B, C)
    other = of(said(A, note="Verse bar 1: wait longer\nthe opener"), B, C)
    both = merged(base.songs, mine, other, undecided)
    assert both.clashes == ()
    assert both.set_list.songs[0].song.note.splitlines() == [
        "Verse bar 1: wait longer", "Verse bar 2: softer", "the opener",
    ]  # fmt: skip


def test_a_pin_set_there_sounds_in_the_key_decided_here() -> None:
    both = merged(BASE.songs, of(said(A, key="D"), B, C), of(said(A, pins=(PIN,)), B, C), undecided)
    song = both.set_list.songs[0].song
    assert both.clashes == ()
    assert song.key == "D"
    assert song.pins == (replace(PIN, left=(50, 57), right=(66, 73)),)


def test_a_pin_taken_out_there_does_not_come_back() -> None:
    base = of(said(A, pins=(PIN,)), B, C)
    both = merged(base.songs, of(said(base.songs[0], tempo=90.0), B, C), BASE, undecided)
    assert both.set_list.songs[0].song.pins == ()
    assert both.set_list.songs[0].song.tempo == 90.0


def test_the_notes_of_two_pins_are_said_in_words() -> None:
    mine, other = replace(PIN, right=None), replace(PIN, left=())
    both = merged(BASE.songs, of(said(A, pins=(mine,)), B, C), of(said(A, pins=(other,)), B, C), undecided)
    (clash,) = both.clashes
    assert (clash.what, clash.ours, clash.theirs) == ("A, pin, Verse bar 1 beat 1", "C3 G3 / free", "rests / E4 B4")


def test_a_song_added_there_and_one_dropped_here() -> None:
    both = merged(BASE.songs, of(A, C), of(A, B, D, C), undecided)
    assert (titles(both.set_list), both.clashes) == ("ADC", ())


def test_a_newcomer_stands_after_the_song_it_followed() -> None:
    both = merged(BASE.songs, of(A, D, B, C), of(C, B, A), undecided)
    assert titles(both.set_list) == "CBAD"


def test_a_newcomer_at_the_end_stays_there() -> None:
    assert titles(merged(BASE.songs, of(C, B, A), of(A, B, C, D), undecided).set_list) == "CBAD"


@pytest.mark.parametrize(("choose", "order"), [(ours, "BAC"), (theirs, "ACB"), (undecided, "ACB")])
def test_two_new_orders_are_asked_about(choose: Callable[[Clash], bool | None], order: str) -> None:
    both = merged(BASE.songs, of(B, A, C), of(A, C, B), choose)
    assert titles(both.set_list) == order
    assert [clash.value for clash in both.clashes] == ([(None, ORDER)] if choose is undecided else [])


@pytest.mark.parametrize(("choose", "order"), [(ours, "ABC"), (theirs, "BC")])
def test_a_song_dropped_there_with_something_decided_here_is_asked_about(
    choose: Callable[[Clash], bool | None], order: str
) -> None:
    mine = of(said(A, key="D"), B, C)
    assert [clash.value for clash in merged(BASE.songs, mine, of(B, C), undecided).clashes] == [(("a.toml", 0), SONG)]
    assert titles(merged(BASE.songs, mine, of(B, C), choose).set_list) == order


@pytest.mark.parametrize(("choose", "order"), [(ours, "BC"), (theirs, "ABC")])
def test_a_song_dropped_here_with_something_decided_there_is_asked_about(
    choose: Callable[[Clash], bool | None], order: str
) -> None:
    assert titles(merged(BASE.songs, of(B, C), of(said(A, key="D"), B, C), choose).set_list) == order


def test_what_was_decided_and_saved_is_not_lost_to_an_older_copy_of_the_file() -> None:
    faster = of(said(A, tempo=90.0), B, C)
    decided = changes(BASE.songs, faster.songs)
    # An editor that had the file open since before writes the old tempo back.
    both = merged(faster.songs, faster, BASE, undecided, decided)
    assert [clash.what for clash in both.clashes] == ["A, tempo"]
    assert merged(faster.songs, faster, BASE, ours, decided).set_list.songs[0].song.tempo == 90.0


def test_what_clashes_is_no_common_knowledge() -> None:
    mine = of(said(A, tempo=90.0, note="softer"), B, C)
    both = merged(BASE.songs, mine, of(said(A, tempo=150.0), B, C), undecided)
    known = put_back(BASE.songs, mine.songs, both.clashes)
    assert (known[0].song.tempo, known[0].song.note) == (120.0, "softer")


def test_two_entries_of_one_file_are_two_songs() -> None:
    assert list(named((A, B, A))) == [("a.toml", 0), ("b.toml", 0), ("a.toml", 1)]


places = st.builds(
    lambda place, tempo, key, note, pins: said(place, tempo=tempo, key=key, note=note, pins=pins),
    st.sampled_from([A, B, C, D]),
    st.sampled_from([90.0, 120.0, 150.0]),
    st.sampled_from(["C", "D", "Eb"]),
    st.sampled_from(["", "low lights", "Verse bar 1: wait"]),
    st.sampled_from([(), (PIN,)]),
)
sets = st.lists(places, max_size=4, unique_by=lambda place: place.file).map(lambda songs: of(*songs))


@given(base=sets, one=sets, other=sets, choice=st.booleans())
def test_whatever_changed_nothing_stays_open_once_chosen(
    base: SetList, one: SetList, other: SetList, choice: bool
) -> None:
    both = merged(base.songs, one, other, lambda clash: choice)
    assert both.clashes == ()
    assert len(named(both.set_list.songs)) == len(both.set_list.songs)


@given(base=sets, one=sets)
def test_a_side_that_changed_nothing_gives_way(base: SetList, one: SetList) -> None:
    assert not changes(merged(base.songs, base, one, undecided).set_list.songs, one.songs)
    assert not changes(merged(base.songs, one, base, undecided).set_list.songs, one.songs)


@given(base=sets, one=sets, other=sets)
def test_both_sides_see_the_same_clashes_and_lose_nothing_else(base: SetList, one: SetList, other: SetList) -> None:
    here, there = merged(base.songs, one, other, undecided), merged(base.songs, other, one, undecided)
    assert {clash.value for clash in here.clashes} == {clash.value for clash in there.clashes}


def test_what_clashes_is_told_in_the_players_words() -> None:
    base = charts.harbour_set()
    ours, theirs = (
        replace(base, songs=(replace(base.songs[0], song=replace(base.songs[0].song, left_hand=said)), *base.songs[1:]))
        for said in ("stride", "walking")
    )
    (clash,) = merged(base.songs, ours, theirs, lambda clash: None).clashes
    assert (clash.what, clash.ours, clash.theirs) == ("Harbour Steps, left hand", "stride", "walking")
