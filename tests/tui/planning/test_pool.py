from engine.errors import NoGrip
from engine.planning.model import Request
from engine.song.reader import song_from_chart
from tui.planning import pool
from tui.planning.pool import compare_keys, plan_all

JOBS = [
    (song_from_chart("| Dm7 | G7 | C6 |"), Request(method="shell")),
    (song_from_chart("| Am7 | D7 | Gmaj7 |"), Request(bass=True)),
    (song_from_chart("| C13 |"), Request(reach=(1.0, 1.0))),
]


def test_the_plans_do_not_depend_on_the_number_of_processes():
    alone, together = plan_all(JOBS, workers=1), plan_all(JOBS, workers=2)
    assert alone[:2] == together[:2]
    assert str(alone[2]) == str(together[2])


def test_a_song_that_fits_no_hand_leaves_the_others_their_plans():
    first, _, last = plan_all(JOBS, workers=1)
    assert first.steps
    assert isinstance(last, NoGrip)


def test_the_twelve_keys_do_not_depend_on_the_number_of_processes(monkeypatch):
    song = song_from_chart("| Dm7 | G7 | C6 | A7 |")
    alone = compare_keys(song, Request(), (57, 74), ("Bb",))
    monkeypatch.setattr(pool, "LONG_SONG", 4)
    assert compare_keys(song, Request(), (57, 74), ("Bb",)) == alone
    assert len(alone) == 12
