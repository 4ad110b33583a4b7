"""What a key press makes of a rehearsal."""

from dataclasses import replace

import pytest

from tests.tui import charts
from tests.tui.walking import at, forwards
from tui.session import changes, decisions, navigation
from tui.session import rehearsal as stand
from tui.session.rehearsal import NotThere, Rehearsal
from tui.session.steps import section_letters


def test_a_set_opens_at_the_first_chord(harbour: Rehearsal) -> None:
    assert at(harbour) == ("Intro", 1, 1)
    assert len(harbour.steps) == 2 + 5 + 5 + 4 + 5 + 2 + 1


def test_a_place_outside_the_set_becomes_the_nearest_inside() -> None:
    now = stand.opened(charts.harbour_set(), charts.unfold, song=9, step=999)
    assert (now.song, now.at_end) == (2, True)


def test_an_empty_set_opens_and_nothing_happens() -> None:
    now = stand.opened(replace(charts.harbour_set(), songs=()), charts.unfold)
    assert now.here is None
    assert now.at_end
    assert stand.forward(now) == now


def test_forward_and_back_are_one_chord(harbour: Rehearsal) -> None:
    assert at(stand.forward(harbour)) == ("Intro", 1, 2)
    assert stand.back(stand.forward(harbour)) == harbour


def test_before_the_first_chord_there_is_nothing(harbour: Rehearsal) -> None:
    assert stand.back(harbour) == harbour


def test_a_vamp_goes_round_until_its_cue(harbour: Rehearsal) -> None:
    vamp = navigation.to_section(harbour, "Vamp")
    assert vamp.waiting
    assert [at(forwards(vamp, n))[2] for n in range(5)] == [1, 2, 1, 2, 1]


def test_the_chord_that_comes_in_a_vamp_is_its_first_until_the_cue(harbour: Rehearsal) -> None:
    last = stand.forward(navigation.to_section(harbour, "Vamp"))
    assert last.coming == last.step - 1
    assert stand.cue(last).coming == last.step + 1


def test_after_the_cue_the_vamp_is_left_when_its_round_is_through(harbour: Rehearsal) -> None:
    cued = stand.cue(navigation.to_section(harbour, "Vamp"))
    assert [at(forwards(cued, n))[0] for n in range(3)] == ["Vamp", "Vamp", "Tag"]
    assert not forwards(cued, 2).cued


def test_a_cue_is_taken_back_by_giving_it_again(harbour: Rehearsal) -> None:
    vamp = navigation.to_section(harbour, "Vamp")
    assert stand.cue(stand.cue(vamp)).waiting


def test_without_a_vamp_there_is_no_cue(harbour: Rehearsal) -> None:
    with pytest.raises(NotThere, match="no vamp"):
        stand.cue(harbour)


def test_behind_the_last_chord_is_the_end_and_behind_it_the_next_song(harbour: Rehearsal) -> None:
    tag = navigation.to_section(harbour, "Tag")
    end = stand.forward(tag)
    assert end.at_end
    assert end.now is None
    following = stand.forward(end)
    assert (following.song, following.step) == (1, 0)


def test_a_song_played_to_its_end_is_walked_through(harbour: Rehearsal) -> None:
    end = stand.forward(navigation.to_section(harbour, "Tag"))
    assert end.walked == {"songs/0.toml"}


def test_the_set_ends_with_its_last_song() -> None:
    end = stand.opened(charts.harbour_set(), charts.unfold, song=2, step=99)
    assert stand.forward(end) == end


def test_previous_song_is_first_the_top_of_this_one() -> None:
    now = stand.opened(charts.harbour_set(), charts.unfold, song=1, step=2)
    now = stand.previous_song(now)
    assert (now.song, now.step) == (1, 0)
    assert stand.previous_song(now).song == 0


def test_after_the_last_song_there_is_none(harbour: Rehearsal) -> None:
    with pytest.raises(NotThere, match="last song"):
        stand.open_song(harbour, 3)


@pytest.mark.parametrize(
    ("typed", "found"), [("lamp", (1,)), ("S", (2, 0, 1)), ("2", (1,)), ("9", ()), ("", ()), ("xyz", ())]
)
def test_a_song_is_found_by_part_of_its_title_or_its_number(
    harbour: Rehearsal, typed: str, found: tuple[int, ...]
) -> None:
    assert stand.find_song(harbour, typed) == found


def test_every_section_has_a_letter_of_its_own(harbour: Rehearsal) -> None:
    letters = section_letters(harbour.steps)
    assert letters == {"i": "Intro", "v": "Verse", "b": "Bridge", "a": "Vamp", "t": "Tag"}


def test_a_section_called_by_one_letter_keeps_it() -> None:
    steps = charts.unfold(charts.song("X", charts.section("Bridge", "C"), charts.section("B", "F")))
    assert section_letters(steps) == {"b": "B", "r": "Bridge"}


def faster(now: Rehearsal) -> Rehearsal:
    return decisions.retimed(now, 0, now.songs[0].song.tempo + 4)


def test_undo_takes_back_a_change_and_leaves_the_place_where_we_are(harbour: Rehearsal) -> None:
    bridge = navigation.to_section(faster(stand.forward(harbour)), "Bridge")
    undone = changes.undo(bridge)
    assert undone.songs == harbour.songs
    assert undone.step == bridge.step
    assert changes.redo(undone).songs == bridge.songs


def test_a_cue_stays_given_when_something_is_undone_in_the_vamp(harbour: Rehearsal) -> None:
    cued = stand.cue(navigation.to_section(faster(harbour), "Vamp"))
    assert changes.undo(cued).cued
    assert not changes.undo(replace(cued, step=0)).cued


def test_a_change_of_another_song_is_undone_from_where_we_are(harbour: Rehearsal) -> None:
    there = stand.next_song(faster(harbour))
    undone = changes.undo(there)
    assert undone.songs == harbour.songs
    assert undone.song == there.song


def test_undo_opens_the_song_it_brings_back_into_the_set(harbour: Rehearsal) -> None:
    bridge = navigation.to_section(harbour, "Bridge")
    undone = changes.undo(decisions.dropped_song(bridge, 0))
    assert (undone.song, undone.step) == (0, bridge.step)


def test_undo_of_another_order_stays_in_the_song_that_is_open(harbour: Rehearsal) -> None:
    moved = stand.open_song(decisions.moved_song(harbour, 0, 1), 2)
    undone = changes.undo(moved)
    assert undone.here is not None
    assert undone.here.file == harbour.songs[2].file


def test_neither_steps_nor_jumps_are_undone(harbour: Rehearsal) -> None:
    with pytest.raises(NotThere, match="nothing to undo"):
        changes.undo(navigation.to_section(forwards(harbour, 5), "Bridge"))


def test_a_new_change_forgets_what_could_be_redone_and_a_jump_does_not(harbour: Rehearsal) -> None:
    undone = changes.undo(faster(harbour))
    assert changes.redo(navigation.top(undone)).songs != harbour.songs
    with pytest.raises(NotThere, match="nothing to redo"):
        changes.redo(decisions.noted(undone, "", "slower"))


def test_after_a_stray_jump_the_way_back_is_where_we_played(harbour: Rehearsal) -> None:
    playing = forwards(harbour, 7)
    assert stand.returned(navigation.top(playing)).step == playing.step


def test_going_back_again_is_there_and_back(harbour: Rehearsal) -> None:
    bridge = navigation.to_section(forwards(harbour, 7), "Bridge")
    back = stand.returned(bridge)
    assert stand.returned(back).step == bridge.step
    assert stand.returned(stand.returned(back)).step == back.step


def test_jumps_with_nothing_played_between_them_are_one_way_back(harbour: Rehearsal) -> None:
    playing = forwards(harbour, 7)
    looking = navigation.neighbour_section(navigation.neighbour_section(navigation.top(playing), 1), 1)
    assert stand.returned(looking).step == playing.step
    assert stand.returned(navigation.top(stand.forward(looking))).step == looking.step + 1


def test_the_way_back_leads_into_the_song_we_played_and_its_loop(harbour: Rehearsal) -> None:
    playing = navigation.looped(forwards(harbour, 7), 5, 9)
    back = stand.returned(stand.next_song(stand.next_song(playing)))
    assert (back.song, back.step, back.loop) == (0, playing.step, (5, 9))


def test_the_way_back_finds_a_song_that_was_moved(harbour: Rehearsal) -> None:
    there = decisions.moved_song(stand.next_song(forwards(harbour, 7)), 0, 1)
    back = stand.returned(there)
    assert (back.song, back.step) == (1, 7)


def test_without_a_jump_or_with_its_song_gone_there_is_no_way_back(harbour: Rehearsal) -> None:
    with pytest.raises(NotThere, match="no jump yet"):
        stand.returned(stand.forward(harbour))
    with pytest.raises(NotThere, match="no longer in the set"):
        stand.returned(decisions.dropped_song(stand.next_song(harbour), 0))
