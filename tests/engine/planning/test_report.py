"""A plan as JSON and as text, for plans made by hand."""

import json
from dataclasses import replace
from fractions import Fraction

import pytest

from engine.planning.model import Plan, PlannedNote, PlannedStep
from engine.planning.report import WIDTH, plan_json, plan_text
from engine.song.model import Song, Step
from engine.theory.meter import Meter

SONG = Song(title="Two Chords", key="C", meter=Meter(4, 4), tempo=120.0)


def step(symbol: str = "G7", beat: Fraction = Fraction(1), mark: str = "") -> Step:
    return Step(
        index=0, section="Verse", pass_=1, passes=2, bar=1, bars=4, beat=beat, beats=Fraction(4), symbol=symbol,
        chord=None, mark=mark, cue="", until="", key="C", meter=Meter(4, 4), written=("Verse", 0, 0),
        section_start=True,
    )  # fmt: skip


def note(key: int, name: str, finger: int, move: str = "press", left_from: int | None = None) -> PlannedNote:
    return PlannedNote(key, name, "1", finger, move, left_from)


def planned(**changes: object) -> PlannedStep:
    plain = PlannedStep(
        step=step(), method="shell", left=(note(43, "G2", 5),),
        right=(note(59, "B3", 1, "slide", 60), note(65, "F4", 3, "hold", 65)),
        lifted_left=((1, 50),), lifted_right=(), effort=2.5, terms=(("travel", 2.5),),
    )  # fmt: skip
    return replace(plain, **changes)  # type: ignore[arg-type]


def plan(*steps: PlannedStep) -> Plan:
    return Plan(steps=steps, effort=sum(each.effort for each in steps), free=2.0, exact=False, bound=2.0)


def test_json_names_key_finger_move_and_where_the_finger_came_from() -> None:
    (found,) = plan_json([(SONG, plan(planned()))])["songs"][0]["steps"]
    assert found["right"][0] == {"midi": 59, "name": "B3", "degree": "1", "finger": 1, "move": "slide", "from": 60}
    assert found["lifted"] == {"left": [{"finger": 1, "midi": 50}], "right": []}


def test_json_of_a_plan_survives_being_written_and_read() -> None:
    answer = plan_json([(SONG, plan(planned()))])
    assert json.loads(json.dumps(answer)) == answer


def test_a_plan_states_its_gap_to_the_free_optimum() -> None:
    assert plan_json([(SONG, plan(planned()))])["songs"][0]["optimum"] == {
        "value": 2.5,
        "free_value": 2.0,
        "bound": 2.0,
        "gap": pytest.approx(0.25),
        "exact": False,
        "pins_cost": 0.0,
        "over": "all states of the textures held",
    }


def test_a_song_without_chords_is_a_plan_without_steps() -> None:
    assert plan_json([(SONG, Plan((), 0.0, 0.0, True))])["songs"][0]["steps"] == []
    assert "effort 0.0" in plan_text(SONG, Plan((), 0.0, 0.0, True))


def test_text_gives_place_symbol_hands_and_effort_in_one_line() -> None:
    line = next(line for line in plan_text(SONG, plan(planned())).splitlines() if "G7" in line)
    assert line.split() == ["1.1", "G7", "LH", "5:G2", "RH", "1:B3<1", "3:F4=", "2.5"]


def test_a_beat_between_the_beats_is_written_as_a_fraction() -> None:
    assert "1.2+1/2" in plan_text(SONG, plan(planned(step=step(beat=Fraction(5, 2)))))


@pytest.mark.parametrize(
    ("played", "headings"),
    [
        ("Verse Verse", ["[Verse] pass 1 of 2", "[Verse] pass 2 of 2"]),
        ("Verse Bridge Verse", ["[Verse]", "[Bridge]", "[Verse]"]),
        ("Verse Verse Bridge Verse", ["[Verse] pass 1 of 2", "[Verse] pass 2 of 2", "[Bridge]", "[Verse]"]),
    ],
)
def test_the_passes_of_a_section_are_counted_in_a_row_as_on_the_stand(played: str, headings: list[str]) -> None:
    names = played.split()
    passes = [replace(step(), section=name, passes=names.count(name)) for name in names]
    text = plan_text(SONG, plan(*(planned(step=each) for each in passes)))
    assert [line for line in text.splitlines() if line.startswith("[")] == headings


def test_the_legend_of_the_moves_fits_the_page() -> None:
    assert "..." not in plan_text(SONG, plan(planned()))


@pytest.mark.parametrize("fingers", [1, 3, 5])
def test_the_widest_hands_and_names_fit_80_columns_and_lose_nothing(fingers: int) -> None:
    hand = tuple(note(36 + 4 * each, "Bbb-1", each + 1, "refinger") for each in range(fingers))
    text = plan_text(SONG, plan(planned(step=step("Bbm7b5(add11)/Fb", mark="push"), left=hand, right=hand)))
    assert max(map(len, text.splitlines())) <= WIDTH
    assert text.count("Bbb-1~") == 2 * fingers


def test_a_long_warning_is_written_out_over_several_lines() -> None:
    warning = " ".join(["the left hand needs a tenth and reaches a ninth"] * 4)
    text = plan_text(SONG, plan(planned(warnings=(warning,))))
    assert max(map(len, text.splitlines())) <= WIDTH
    assert " ".join(text.replace("!", " ").split()).count("reaches a ninth") == 4
