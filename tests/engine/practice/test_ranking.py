from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.planning.lineup import request_for
from engine.planning.planner import plan
from engine.practice.difficulty import needed
from engine.practice.model import Shift, hands_of
from engine.practice.ranking import Entry, rank
from engine.practice.report import shifts_text
from engine.song.model import SetList
from engine.song.reader import read_song, song_from_chart
from engine.song.unfolding import unfold
from tests.engine.practice.by_hand import TWO_FIVE, Chord, plan_of, song

GRIPS = ("1:60 3:65", "1:59 3:65", "1:59 3:64", "2:60 5:69", "")


def entry(chords: tuple[Chord, ...] = TWO_FIVE, title: str = "Ropewalk", tempo: float = 120.0) -> Entry:
    return song(title, tempo), plan_of(chords)


def test_a_two_five_one_has_two_shifts() -> None:
    ranking = rank([entry()])
    assert [hard.tightest.symbols for hard in ranking.shifts] == [("G7", "Cmaj7"), ("Dm7", "G7")]
    assert ranking.played == 2


def test_the_same_shift_in_two_songs_is_one_met_twice_the_faster_first() -> None:
    ranking = rank([entry(), entry(title="Low Tide", tempo=180.0)])
    assert len(ranking.shifts) == 2
    assert ranking.shifts[0].songs == ("Low Tide", "Ropewalk")
    assert ranking.shifts[0].tightest.tempo == 180.0


def test_other_fingers_on_the_same_keys_are_another_shift() -> None:
    other = tuple((symbol, beats, left, right.replace("3:", "4:")) for symbol, beats, left, right in TWO_FIVE)
    assert len(rank([entry(), entry(other)]).shifts) == 4


def test_the_same_chord_held_on_is_no_shift() -> None:
    held: tuple[Chord, ...] = (TWO_FIVE[0], TWO_FIVE[0], TWO_FIVE[1])
    ranking = rank([entry(held)])
    assert (len(ranking.shifts), ranking.played, ranking.still) == (1, 2, 1)


def test_a_bar_without_chord_joins_the_chords_round_it_and_gives_its_time() -> None:
    gap: tuple[Chord, ...] = (TWO_FIVE[0], ("N.C.", 4, "", ""), TWO_FIVE[1])
    (hard,) = rank([entry(gap)]).shifts
    assert hard.tightest.symbols == ("Dm7", "G7")
    assert hard.tightest.available == pytest.approx(3.0)
    assert (hard.tightest.before, hard.tightest.index) == (0, 2)


def test_after_a_rest_the_fingers_are_told_from_where_they_were() -> None:
    gap: tuple[Chord, ...] = (TWO_FIVE[0], ("N.C.", 4, "", ""), TWO_FIVE[1])
    (hard,) = rank([entry(gap)]).shifts
    assert [note.move for note in hard.steps[1].right] == ["slide", "hold"]
    assert hard.steps[1].left[0].left_from == 38


def vamp(*rest: Chord) -> Entry:
    """The two-five-one as a vamp, and what follows it."""
    plan = plan_of((*TWO_FIVE, *rest))
    steps = tuple(
        replace(one, step=replace(one.step, until="cue" if i < 3 else "", section_start=i in (0, 3)))
        for i, one in enumerate(plan.steps)
    )
    return song(), replace(plan, steps=steps)


def test_the_seam_of_a_vamp_is_a_shift_too() -> None:
    seams = [hard for hard in rank([vamp()]).shifts if hard.tightest.seam]
    assert [hard.tightest.symbols for hard in seams] == [("Cmaj7", "Dm7")]
    assert (seams[0].tightest.before, seams[0].tightest.index) == (2, 0)
    assert seams[0].tightest.available == pytest.approx(2.0)
    assert seams[0].steps[1].left[0].left_from == 36


def test_the_way_out_of_a_vamp_comes_after_its_seam() -> None:
    symbols = {hard.tightest.symbols for hard in rank([vamp(("Am7", 4, "5:45", "1:60 3:67"))]).shifts}
    assert symbols == {("Dm7", "G7"), ("G7", "Cmaj7"), ("Cmaj7", "Dm7"), ("Cmaj7", "Am7")}


def test_a_vamp_of_one_chord_has_no_seam() -> None:
    one = plan_of((TWO_FIVE[0],))
    (step,) = one.steps
    assert rank([(song(), replace(one, steps=(replace(step, step=replace(step.step, until="cue")),)))]).played == 0


def test_a_faster_song_has_harder_shifts() -> None:
    slow, fast = (rank([entry(tempo=tempo)]).shifts[0].load for tempo in (60.0, 240.0))
    assert fast == pytest.approx(4 * slow)


def test_a_set_without_chords_has_no_shifts_and_no_difficulty() -> None:
    assert rank([]).shifts == ()
    assert rank([entry(())]).covered() == 0.0


def test_a_shift_is_found_again_by_its_sign_when_the_set_was_edited() -> None:
    sign = rank([entry()]).shifts[0].shift.sign
    edited = rank([entry((("Am7", 4, "5:45", "1:60 3:67"), *TWO_FIVE), title="Ropewalk, new")])
    found = edited.find(sign)
    assert found is not None
    assert found.tightest.symbols == ("G7", "Cmaj7")
    assert edited.find("5C3 > 5D3") is None


@st.composite
def a_song(draw: st.DrawFn) -> Entry:
    count = draw(st.integers(0, 9))
    chords = [(f"C{i}", draw(st.integers(1, 4)), "5:43", draw(st.sampled_from(GRIPS))) for i in range(count)]
    tempo = draw(st.floats(40, 300))
    return song(draw(st.sampled_from(("A", "B", "C"))), tempo), plan_of(chords)


@given(st.lists(a_song(), max_size=4))
def test_every_merged_shift_is_the_same_in_both_hands_and_all_fingers(entries: list[Entry]) -> None:
    for hard in rank(entries).shifts:
        for place in hard.met:
            steps = entries[place.song][1].steps
            assert Shift(hands_of(steps[place.before]), hands_of(steps[place.index])) == hard.shift
        assert hands_of(hard.steps[0]) == hard.shift.before
        assert min(place.available for place in hard.met) == hard.tightest.available


@given(st.lists(a_song(), max_size=4))
def test_every_shift_played_is_counted_once(entries: list[Entry]) -> None:
    ranking = rank(entries)
    chords = [sum(bool(step.left or step.right) for step in plan.steps) for _, plan in entries]
    assert ranking.played == sum(max(0, count - 1) for count in chords)
    assert sum(len(hard.met) for hard in ranking.shifts) <= ranking.played - ranking.still
    assert len({hard.shift.sign for hard in ranking.shifts}) == len(ranking.shifts)


@given(st.lists(a_song(), max_size=4), st.integers(1, 12))
def test_loads_fall_down_the_list_and_more_shifts_cover_more(entries: list[Entry], top: int) -> None:
    ranking = rank(entries)
    loads = [hard.load for hard in ranking.shifts]
    assert loads == sorted(loads, reverse=True)
    assert 0.0 <= ranking.covered(top) <= ranking.covered(top + 1) <= 1.0 + 1e-9


@given(st.lists(a_song(), max_size=4))
def test_the_order_of_the_songs_does_not_change_the_order_of_the_shifts(entries: list[Entry]) -> None:
    there, back = rank(entries), rank(entries[::-1])
    assert [hard.shift for hard in there.shifts] == [hard.shift for hard in back.shifts]


def test_slowing_one_song_down_never_makes_a_shift_harder() -> None:
    entries = [entry(), entry(title="Low Tide", tempo=180.0)]
    slower = [entries[0], (replace(entries[1][0], tempo=90.0), entries[1][1])]
    before = {hard.shift: hard.load for hard in rank(entries).shifts}
    assert all(hard.load <= before[hard.shift] for hard in rank(slower).shifts)


def with_pattern(name: str, bars: str, tempo: float = 120.0) -> Entry:
    asked = replace(song_from_chart(bars, tempo=tempo), left_hand=name)
    return asked, plan(unfold(asked))


def test_the_jumps_of_a_stride_are_shifts_with_a_beat_each() -> None:
    ranking = rank([with_pattern("stride", "| G7 | C |")])
    inside = [hard for hard in ranking.shifts if hard.tightest.inside]
    assert [hard.tightest.available for hard in inside] == [pytest.approx(0.5)] * 3
    assert all(hard.shift.before[1] == hard.shift.after[1] for hard in inside)


def test_after_a_pattern_the_left_hand_has_only_the_time_from_its_last_stroke() -> None:
    ranking = rank([with_pattern("stride", "| Dm7 | G7 |")])
    (onward,) = [hard for hard in ranking.shifts if not hard.tightest.inside]
    assert onward.tightest.available == pytest.approx(0.5)


def test_a_pattern_in_one_position_has_no_shifts_inside() -> None:
    ranking = rank([with_pattern("1-5-8", "| Dm7 | G7 |")])
    assert [hard.tightest.symbols for hard in ranking.shifts] == [("Dm7", "G7")]


def test_a_jump_inside_a_pattern_needs_no_time_to_read_a_symbol() -> None:
    hard = next(one for one in rank([with_pattern("stride", "| Dm7 | G7 |")]).shifts if one.tightest.inside)
    assert hard.needs == needed(hard.shift, read=False) < needed(hard.shift)


def with_tune(tune: str) -> Entry:
    head = 'title = "Pier"\nkey = "C"\nmeter = "4/4"\ntempo = 120\ntune_is = "mine"\n[sections.A]\n'
    read = read_song(f'{head}bars = "| C | F |"\ntune = """{tune}"""\n', "")
    return read, plan(unfold(read), request_for(read, SetList("Pier"), (200.0, 200.0)))


def test_after_its_own_tune_the_right_hand_has_only_the_time_from_its_last_note() -> None:
    direct, late = (rank([with_tune(f"L:1/4\n{bar} | c4 |")]) for bar in ("e4", "e3 a"))
    (onward,) = [hard for hard in direct.shifts if not hard.tightest.inside]
    assert onward.tightest.available == pytest.approx(2.0)
    (onward,) = [hard for hard in late.shifts if not hard.tightest.inside]
    assert onward.tightest.available == pytest.approx(0.5)
    assert [hard.tightest.available for hard in late.shifts if hard.tightest.inside] == [pytest.approx(1.5)]


def test_a_way_inside_is_told_by_what_the_hand_plays_there() -> None:
    assert "C, in its tune " in shifts_text("Pier", rank([with_tune("L:1/4\ne3 a | c4 |")]))
    assert "G7, in its stride " in shifts_text("Pier", rank([with_pattern("stride", "| G7 | C |")]))
