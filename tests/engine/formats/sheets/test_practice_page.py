import io
from datetime import datetime, timedelta

import pytest

from engine.formats.sheets.practice_page import Practice, practice_pdf
from engine.practice.log import Try, remembered
from engine.practice.practice_plan import tonight
from engine.practice.ranking import Ranking, rank
from engine.practice.tempo_ladder import first_tempo
from tests.engine.practice.by_hand import TWO_FIVE, Chord, plan_of, song

pypdf = pytest.importorskip("pypdf", reason="pypdf reads printed sheets back")
NOW = datetime(2026, 3, 2, 20, 30)


def pages(practice: Practice, paper: str = "a4") -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(practice_pdf(practice, paper))).pages]


def ranking(tempo: float = 200.0) -> Ranking:
    return rank([(song("Low Tide", tempo), plan_of(TWO_FIVE))])


def test_the_hardest_shifts_stand_with_place_time_and_ladder() -> None:
    here = ranking()
    start = {hard.shift.sign: first_tempo(hard, None, NOW) for hard in here.shifts}
    (page,) = pages(Practice("Harbour Room", here, start=start))
    for words in ("Harbour Room: the hardest shifts", "1  G7 → Cmaj7", "2  Dm7 → G7", "Low Tide", "Verse, bar 1"):
        assert words in page
    first = start[here.shifts[0].shift.sign]
    assert f"ladder  {first:g}  {first + 4:g}" in page
    assert "stop before anything hurts" in page


def test_tonights_turns_have_boxes_to_tick() -> None:
    here = ranking()
    (page,) = pages(Practice("Harbour Room", here, evening=tonight(here, {}, 30.0, NOW)))
    assert "Tonight, 30 minutes" in page
    assert "0:00  no. 1  G7 → Cmaj7" in page
    assert "24:00  pause" in page


@pytest.mark.parametrize("evenings", [1, 2, 40])
def test_progress_is_drawn_and_the_best_is_said(evenings: int) -> None:
    here = ranking()
    sign = here.shifts[0].shift.sign
    tries = [Try(NOW + timedelta(days=day), sign, 60.0 + day, day != 1) for day in range(evenings)]
    (page,) = pages(Practice("Harbour Room", here, remembered(tries)))
    assert "best clean" in page


def test_many_shifts_go_on_another_page() -> None:
    chords: list[Chord] = [(f"C{i}", 2, "5:36", f"1:{60 + i * (i + 1) // 2}") for i in range(8)]
    many = rank([(song(f"Song {number}", 90.0 + number), plan_of(chords[number:])) for number in range(5)])
    more = rank([(song("More"), plan_of([(f"D{i}", 2, f"5:{36 + i}", f"1:{60 + 2 * i}") for i in range(20)]))])
    assert len(pages(Practice("Set", more, top=20), "letter")) > 1
    assert len(pages(Practice("Set", many))) >= 1


def test_an_empty_set_is_an_empty_page_that_says_what_it_is() -> None:
    (page,) = pages(Practice("Nothing", Ranking(())))
    assert "Nothing: the hardest shifts" in page
