"""What the desk does behind the screens: plans asked for, changes saved, other programs noticed."""

import asyncio
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from engine.planning.model import Plan, Request
from engine.song.model import Pin, Step
from tests.tui import charts
from tests.tui.sets_in_files import SET, SONG, desk_on, written
from tests.tui.showing import ReadyPlanner
from tests.tui.waiting import soon
from tui.persistence import store
from tui.persistence.files import short_words
from tui.planning.client import NotPlanned
from tui.session import decisions
from tui.session import rehearsal as stand
from tui.session.decisions import is_bar_note
from tui.session.desk import Desk
from tui.session.rehearsal import NotThere


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return written(tmp_path)


async def test_the_plan_of_the_open_song_comes_by_itself(path: Path) -> None:
    desk = desk_on(path)
    await desk.start()
    await asyncio.sleep(0.01)
    assert desk.plan is not None
    assert not desk.planning
    await desk.close()


async def test_the_rest_of_the_set_is_planned_too(path: Path) -> None:
    desk = desk_on(path)
    await desk.start()
    await asyncio.sleep(0.05)
    assert all(desk.plan_of(place) for place in desk.now.songs)
    await desk.close()


async def test_a_change_is_in_the_file_when_the_desk_closes(path: Path) -> None:
    desk = desk_on(path)
    await desk.start()
    desk.become(decisions.transposed(desk.now, 0, "D", desk.unfold))
    await desk.close()
    assert path.read_text() == SET.replace('file = "a.toml"\n', 'file = "a.toml"\nkey = "D"\n')


async def test_many_changes_are_one_writing(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    saved: list[str] = []
    real = store.save

    def counting(where: Path, text: str) -> None:
        if where == path:
            saved.append(text)
        real(where, text)

    monkeypatch.setattr(store, "save", counting)
    desk = desk_on(path)
    await desk.start()
    for tempo in range(90, 110):
        desk.become(decisions.retimed(desk.now, 0, tempo))
    await asyncio.sleep(0.6)
    await desk.close()
    assert len(saved) == 1
    assert "tempo = 109" in saved[0]


async def test_a_change_made_while_another_is_written_is_saved_too(path: Path) -> None:
    desk = desk_on(path)
    await desk.start()
    desk.become(decisions.transposed(desk.now, 0, "D", desk.unfold))
    await asyncio.sleep(0.3)
    for _ in range(40):
        desk.become(decisions.retimed(desk.now, 1, 60 + desk.now.songs[1].song.tempo % 7))
        await asyncio.sleep(0.005)
    last = desk.now.songs[1].song.tempo
    await soon(lambda: f"tempo = {last:g}" in path.read_text())
    await desk.close()


async def test_undo_is_saved_too(path: Path) -> None:
    desk = desk_on(path)
    await desk.start()
    desk.become(decisions.transposed(desk.now, 0, "D", desk.unfold))
    desk.become(stand.undo(desk.now))
    await desk.close()
    assert path.read_text() == SET


async def test_an_order_changed_elsewhere_stays_and_our_key_goes_into_it(path: Path) -> None:
    desk = desk_on(path)
    await desk.start()
    other = SET.replace("a.toml", "x.toml").replace("b.toml", "a.toml").replace("x.toml", "b.toml")
    path.write_text(other)
    desk.become(decisions.transposed(desk.now, 0, "D", desk.unfold))
    await desk.close()
    assert path.read_text() == other.replace('file = "a.toml"  # slow\n', 'file = "a.toml"  # slow\nkey = "D"\n')


async def test_a_full_disk_is_said_and_the_next_writing_saves_all(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    desk = desk_on(path)
    await desk.start()
    real = store.save

    def full(where: Path, text: str) -> None:
        raise store.StoreError(where, "the disk is full", "make room")

    monkeypatch.setattr(store, "save", full)
    desk.become(decisions.transposed(desk.now, 0, "D", desk.unfold))
    await desk.keeping.save()
    assert desk.trouble["saving"] == "NOT SAVED: set.toml: the disk is full"
    monkeypatch.setattr(store, "save", real)
    desk.become(decisions.retimed(desk.now, 1, 66))
    await desk.close()
    assert "saving" not in desk.trouble
    assert 'key = "D"' in path.read_text()
    assert "tempo = 66" in path.read_text()


async def test_our_own_writing_is_no_change_by_others(path: Path) -> None:
    desk = desk_on(path)
    await desk.start()
    desk.become(decisions.transposed(desk.now, 0, "D", desk.unfold))
    await desk.keeping.save()
    desk.others.look()
    assert "changed" not in desk.trouble
    await desk.close()


async def test_a_reload_keeps_song_and_step_and_can_be_undone(path: Path) -> None:
    desk = desk_on(path)
    await desk.start()
    desk.become(stand.forward(stand.open_song(desk.now, 1)))
    path.with_name("b.toml").write_text(SONG.replace("Pier", "Pier new"))
    await desk.others.reload()
    assert desk.now.here is not None
    assert (desk.now.here.song.title, desk.now.step) == ("Pier new", 1)
    desk.become(stand.undo(desk.now))
    assert desk.now.here.song.title == "Pier b"
    await desk.close()


async def test_a_file_that_got_faults_is_not_taken_up(path: Path) -> None:
    desk = desk_on(path)
    path.write_text("title = ")
    with pytest.raises(Exception, match=r"set\.toml"):
        await desk.others.reload()
    assert len(desk.now.songs) == 2


@pytest.mark.parametrize(("text", "told"), [('title = "Pi', "a.toml:1:"), (None, "a.toml: there is no such file")])
async def test_a_song_that_is_open_stays_when_its_file_is_half_written_or_gone(
    path: Path, text: str | None, told: str
) -> None:
    desk = desk_on(path)
    song = path.with_name("a.toml")
    song.unlink() if text is None else song.write_text(text)
    with pytest.raises(NotThere) as refused:
        await desk.others.reload()
    assert str(refused.value).startswith(f"not taken up: {told}")
    assert [place.song.title for place in desk.now.songs] == ["Pier a", "Pier b"]


async def test_a_pin_is_no_obstacle_to_another_voicing_in_its_place(path: Path) -> None:
    desk = desk_on(path)
    for bar in (1, 2):
        desk.become(
            decisions.pinned(
                desk.now, Pin("Verse", bar, Fraction(1), (48,), (60, 64), (), ()), "Verse", bar, Fraction(1)
            )
        )
    await desk.alternatives(0)
    asked = desk.planner.asked[-1][1][1]  # type: ignore[attr-defined]
    assert [pin.bar for pin in asked.pins] == [2]


async def test_a_song_on_its_own_is_never_written(path: Path) -> None:
    song = path.with_name("a.toml")
    before = song.read_text()
    desk = desk_on(song)
    await desk.start()
    desk.become(decisions.transposed(desk.now, 0, "D", desk.unfold))
    assert desk.message == "for now only: Tab in k keeps the key; a set keeps all (stillhand new)"
    await desk.close()
    assert song.read_text() == before


async def test_the_place_is_kept_for_the_next_start(path: Path) -> None:
    desk = desk_on(path)
    desk.become(stand.open_song(desk.now, 1))
    desk.become(stand.forward(desk.now))
    await desk.close()
    session = store.load_session()
    assert (session.song, session.step) == (1, 1)


async def test_a_song_that_cannot_be_planned_says_so_and_goes_on(path: Path) -> None:
    class Refusing(ReadyPlanner):
        async def plan(self, *arguments: object) -> object:  # type: ignore[override]
            raise NotPlanned("bar 3: C13 does not fit the hands, widen the reach")

    desk = desk_on(path)
    desk.planner = Refusing()  # type: ignore[assignment]
    await desk.start()
    await asyncio.sleep(0.01)
    assert desk.trouble["planning"].startswith("bar 3")
    assert not desk.planning
    desk.become(stand.forward(desk.now))
    assert desk.now.step == 1
    await desk.close()


async def test_a_fault_beside_the_keys_is_said_and_not_lost() -> None:
    async def broken() -> None:
        raise RuntimeError("a string broke")

    desk = Desk(charts.harbour_set(), unfold=charts.unfold)
    desk.start_task(broken())
    await asyncio.sleep(0.01)
    assert desk.trouble["fault"] == "a fault of ours: a string broke"


def test_notes_for_bar_and_song_live_side_by_side() -> None:
    desk = Desk(charts.harbour_set(), unfold=charts.unfold)
    desk.now = decisions.noted(desk.now, "", "low lights")
    desk.now = decisions.noted(desk.now, "Verse bar 2", "wait")
    desk.now = decisions.noted(desk.now, "", "lower lights")
    assert desk.now.here is not None
    assert desk.now.here.song.note == "Verse bar 2: wait\nlower lights"
    desk.now = decisions.noted(desk.now, "Verse bar 2", "")
    assert desk.now.here.song.note == "lower lights"


def test_a_tempo_nobody_plays_is_refused_for_any_song() -> None:
    desk = Desk(charts.harbour_set(), unfold=charts.unfold)
    with pytest.raises(NotThere, match="between 20 and 400"):
        decisions.retimed(desk.now, 1, 5000)


@pytest.mark.parametrize(
    ("line", "of_a_bar"), [("Verse bar 3: x", True), ("Out bar 0: x", True), ("bar 3: x", False), ("a: x", False)]
)  # fmt: skip
def test_a_note_of_a_bar_names_section_and_bar(line: str, of_a_bar: bool) -> None:
    assert is_bar_note(line) is of_a_bar


def test_a_fault_is_said_with_the_files_name_alone() -> None:
    fault = store.StoreError(Path("/a/b/set.toml"), "the disk is full", "make room")
    assert short_words(fault) == "set.toml: the disk is full"


def test_a_session_of_another_layout_is_taken_up() -> None:
    desk = Desk(charts.harbour_set(), unfold=charts.unfold)
    desk.resume({"layout": "leader", "locked": True, "walked": ["songs/1.toml"]})
    assert desk.now == replace(desk.now, layout="leader", locked=True, walked=frozenset({"songs/1.toml"}))
    desk.resume({"layout": 7, "walked": None})
    assert desk.now.layout == "leader"


def test_the_song_left_is_opened_again_wherever_it_stands_by_then(path: Path) -> None:
    desk = desk_on(path)
    files = [place.file for place in desk.now.songs]
    desk.go_to(0, 0, files[1])
    assert desk.now.song == 1
    desk.go_to(7, 0, files[1])
    assert desk.now.song == 1
    desk.go_to(0, 0, "gone.toml")
    assert desk.now.song == 0


async def test_that_a_song_cannot_be_planned_is_said_while_it_is_open_and_again_when_it_is_opened_again(
    tmp_path: Path,
) -> None:
    desk = desk_on(written(tmp_path))
    planned, hard = desk.planner.plan, desk.now.songs[1].song.title

    async def plan(steps: tuple[Step, ...], request: Request, urgency: int = 0) -> Plan:
        if steps is desk.now.songs[1].steps:
            raise NotPlanned(f"no hands for {hard}")
        return await planned(steps, request, urgency)

    desk.planner.plan = plan  # type: ignore[method-assign]
    await desk.start()
    for _ in range(2):
        desk.become(stand.open_song(desk.now, 1))
        await soon(lambda: "planning" in desk.trouble)
        desk.become(stand.open_song(desk.now, 0))
        assert "planning" not in desk.trouble
    await desk.close()
