"""What the evening does behind the screens: plans asked for, changes saved, other programs noticed."""

import asyncio
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from engine.planning.model import Plan, Request
from engine.song.model import Pin, Step
from tests.tui import charts
from tests.tui.evening import Evening, evening_on
from tests.tui.ready_planner import ReadyPlanner
from tests.tui.sets_in_files import SET, SONG, written
from tests.tui.waiting import soon
from tui.persistence import store
from tui.planning.client import NotPlanned
from tui.session import changes, decisions
from tui.session import rehearsal as stand
from tui.session.bar_notes import is_bar_note
from tui.session.rehearsal import NotThere
from tui.session.session import in_a_line


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return written(tmp_path)


async def test_the_plan_of_the_open_song_comes_by_itself(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    await asyncio.sleep(0.01)
    assert evening.plans.current is not None
    assert not evening.plans.pending
    await evening.close()


async def test_the_rest_of_the_set_is_planned_too(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    await asyncio.sleep(0.05)
    assert all(evening.plans.of(place) for place in evening.session.now.songs)
    await evening.close()


async def test_a_change_is_in_the_file_when_the_desk_closes(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    evening.session.become(decisions.transposed(evening.session.now, 0, "D", evening.session.unfold))
    await evening.close()
    assert path.read_text() == SET.replace('file = "a.toml"\n', 'file = "a.toml"\nkey = "D"\n')


async def test_many_changes_are_one_writing(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    saved: list[str] = []
    real = store.save

    def counting(where: Path, text: str) -> None:
        if where == path:
            saved.append(text)
        real(where, text)

    monkeypatch.setattr(store, "save", counting)
    evening = evening_on(path)
    await evening.start()
    for tempo in range(90, 110):
        evening.session.become(decisions.retimed(evening.session.now, 0, tempo))
    await asyncio.sleep(0.6)
    await evening.close()
    assert len(saved) == 1
    assert "tempo = 109" in saved[0]


async def test_a_change_made_while_another_is_written_is_saved_too(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    evening.session.become(decisions.transposed(evening.session.now, 0, "D", evening.session.unfold))
    await asyncio.sleep(0.3)
    for _ in range(40):
        evening.session.become(
            decisions.retimed(evening.session.now, 1, 60 + evening.session.now.songs[1].song.tempo % 7)
        )
        await asyncio.sleep(0.005)
    last = evening.session.now.songs[1].song.tempo
    await soon(lambda: f"tempo = {last:g}" in path.read_text())
    await evening.close()


async def test_undo_is_saved_too(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    evening.session.become(decisions.transposed(evening.session.now, 0, "D", evening.session.unfold))
    evening.session.become(changes.undo(evening.session.now))
    await evening.close()
    assert path.read_text() == SET


async def test_an_order_changed_elsewhere_stays_and_our_key_goes_into_it(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    other = SET.replace("a.toml", "x.toml").replace("b.toml", "a.toml").replace("x.toml", "b.toml")
    path.write_text(other)
    evening.session.become(decisions.transposed(evening.session.now, 0, "D", evening.session.unfold))
    await evening.close()
    assert path.read_text() == other.replace('file = "a.toml"  # slow\n', 'file = "a.toml"  # slow\nkey = "D"\n')


async def test_a_full_disk_is_said_and_the_next_writing_saves_all(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    evening = evening_on(path)
    await evening.start()
    real = store.save

    def full(where: Path, text: str) -> None:
        raise store.StoreError(where, "the disk is full", "make room")

    monkeypatch.setattr(store, "save", full)
    evening.session.become(decisions.transposed(evening.session.now, 0, "D", evening.session.unfold))
    await evening.files.autosave.save()
    assert evening.session.notices["saving"] == "NOT SAVED: set.toml: the disk is full"
    monkeypatch.setattr(store, "save", real)
    evening.session.become(decisions.retimed(evening.session.now, 1, 66))
    await evening.close()
    assert "saving" not in evening.session.notices
    assert 'key = "D"' in path.read_text()
    assert "tempo = 66" in path.read_text()


async def test_our_own_writing_is_no_change_by_others(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    evening.session.become(decisions.transposed(evening.session.now, 0, "D", evening.session.unfold))
    await evening.files.autosave.save()
    evening.files.others.look()
    assert "changed" not in evening.session.notices
    await evening.close()


async def test_a_reload_keeps_song_and_step_and_can_be_undone(path: Path) -> None:
    evening = evening_on(path)
    await evening.start()
    evening.session.become(stand.forward(stand.open_song(evening.session.now, 1)))
    path.with_name("b.toml").write_text(SONG.replace("Pier", "Pier new"))
    await evening.files.others.reload()
    assert evening.session.now.here is not None
    assert (evening.session.now.here.song.title, evening.session.now.step) == ("Pier new", 1)
    evening.session.become(changes.undo(evening.session.now))
    assert evening.session.now.here.song.title == "Pier b"
    await evening.close()


async def test_a_file_that_got_faults_is_not_taken_up(path: Path) -> None:
    evening = evening_on(path)
    path.write_text("title = ")
    with pytest.raises(Exception, match=r"set\.toml"):
        await evening.files.others.reload()
    assert len(evening.session.now.songs) == 2


@pytest.mark.parametrize(("text", "told"), [('title = "Pi', "a.toml:1:"), (None, "a.toml: there is no such file")])
async def test_a_song_that_is_open_stays_when_its_file_is_half_written_or_gone(
    path: Path, text: str | None, told: str
) -> None:
    evening = evening_on(path)
    song = path.with_name("a.toml")
    song.unlink() if text is None else song.write_text(text)
    with pytest.raises(NotThere) as refused:
        await evening.files.others.reload()
    assert str(refused.value).startswith(f"not taken up: {told}")
    assert [place.song.title for place in evening.session.now.songs] == ["Pier a", "Pier b"]


async def test_a_pin_is_no_obstacle_to_another_voicing_in_its_place(path: Path) -> None:
    evening = evening_on(path)
    for bar in (1, 2):
        evening.session.become(
            decisions.pinned(
                evening.session.now, Pin("Verse", bar, Fraction(1), (48,), (60, 64), (), ()), "Verse", bar, Fraction(1)
            )
        )
    await evening.plans.alternatives(0)
    asked = evening.plans.planner.asked[-1][1][1]  # type: ignore[attr-defined]
    assert [pin.bar for pin in asked.pins] == [2]


async def test_a_song_on_its_own_is_never_written(path: Path) -> None:
    song = path.with_name("a.toml")
    before = song.read_text()
    evening = evening_on(song)
    await evening.start()
    evening.session.become(decisions.transposed(evening.session.now, 0, "D", evening.session.unfold))
    assert evening.session.message == "for now only: Tab in k keeps the key; a set keeps all (stillhand new)"
    await evening.close()
    assert song.read_text() == before


async def test_the_place_is_kept_for_the_next_start(path: Path) -> None:
    evening = evening_on(path)
    evening.session.become(stand.open_song(evening.session.now, 1))
    evening.session.become(stand.forward(evening.session.now))
    await evening.close()
    session = store.load_session()
    assert (session.song, session.step) == (1, 1)


async def test_a_song_that_cannot_be_planned_says_so_and_goes_on(path: Path) -> None:
    class Refusing(ReadyPlanner):
        async def plan(self, *arguments: object) -> object:  # type: ignore[override]
            raise NotPlanned("bar 3: C13 does not fit the hands, widen the reach")

    evening = evening_on(path)
    evening.plans.planner = Refusing()  # type: ignore[assignment]
    await evening.start()
    await asyncio.sleep(0.01)
    assert evening.session.notices["planning"].startswith("bar 3")
    assert not evening.plans.pending
    evening.session.become(stand.forward(evening.session.now))
    assert evening.session.now.step == 1
    await evening.close()


async def test_a_fault_beside_the_keys_is_said_and_not_lost() -> None:
    async def broken() -> None:
        raise RuntimeError("a string broke")

    evening = Evening(charts.harbour_set(), unfold=charts.unfold)
    evening.session.tasks.start(broken())
    await asyncio.sleep(0.01)
    assert evening.session.notices["fault"] == "a fault of ours: a string broke"


def test_notes_for_bar_and_song_live_side_by_side() -> None:
    evening = Evening(charts.harbour_set(), unfold=charts.unfold)
    evening.session.now = decisions.noted(evening.session.now, "", "low lights")
    evening.session.now = decisions.noted(evening.session.now, "Verse bar 2", "wait")
    evening.session.now = decisions.noted(evening.session.now, "", "lower lights")
    assert evening.session.now.here is not None
    assert evening.session.now.here.song.note == "Verse bar 2: wait\nlower lights"
    evening.session.now = decisions.noted(evening.session.now, "Verse bar 2", "")
    assert evening.session.now.here.song.note == "lower lights"


def test_a_tempo_nobody_plays_is_refused_for_any_song() -> None:
    evening = Evening(charts.harbour_set(), unfold=charts.unfold)
    with pytest.raises(NotThere, match="between 20 and 400"):
        decisions.retimed(evening.session.now, 1, 5000)


@pytest.mark.parametrize(
    ("line", "of_a_bar"), [("Verse bar 3: x", True), ("Out bar 0: x", True), ("bar 3: x", False), ("a: x", False)]
)  # fmt: skip
def test_a_note_of_a_bar_names_section_and_bar(line: str, of_a_bar: bool) -> None:
    assert is_bar_note(line) is of_a_bar


def test_a_fault_is_said_with_the_files_name_alone() -> None:
    fault = store.StoreError(Path("/a/b/set.toml"), "the disk is full", "make room")
    assert in_a_line(fault) == "set.toml: the disk is full"


def test_a_session_of_another_layout_is_taken_up() -> None:
    evening = Evening(charts.harbour_set(), unfold=charts.unfold)
    evening.session.resume({"layout": "leader", "locked": True, "walked": ["songs/1.toml"]})
    assert evening.session.now == replace(
        evening.session.now, layout="leader", locked=True, walked=frozenset({"songs/1.toml"})
    )
    evening.session.resume({"layout": 7, "walked": None})
    assert evening.session.now.layout == "leader"


def test_the_song_left_is_opened_again_wherever_it_stands_by_then(path: Path) -> None:
    evening = evening_on(path)
    files = [place.file for place in evening.session.now.songs]
    evening.session.go_to(0, 0, files[1])
    assert evening.session.now.song == 1
    evening.session.go_to(7, 0, files[1])
    assert evening.session.now.song == 1
    evening.session.go_to(0, 0, "gone.toml")
    assert evening.session.now.song == 0


async def test_that_a_song_cannot_be_planned_is_said_while_it_is_open_and_again_when_it_is_opened_again(
    tmp_path: Path,
) -> None:
    evening = evening_on(written(tmp_path))
    planned, hard = evening.plans.planner.plan, evening.session.now.songs[1].song.title

    async def plan(steps: tuple[Step, ...], request: Request, urgency: int = 0) -> Plan:
        if steps is evening.session.now.songs[1].steps:
            raise NotPlanned(f"no hands for {hard}")
        return await planned(steps, request, urgency)

    evening.plans.planner.plan = plan  # type: ignore[method-assign]
    await evening.start()
    for _ in range(2):
        evening.session.become(stand.open_song(evening.session.now, 1))
        await soon(lambda: "planning" in evening.session.notices)
        evening.session.become(stand.open_song(evening.session.now, 0))
        assert "planning" not in evening.session.notices
    await evening.close()
