from dataclasses import replace

import pytest

from engine.plan.keys import compare_keys
from engine.plan.model import Request
from engine.plan.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold
from engine.theory.pitch import key_number

SONG = replace(
    song_from_chart("| Fm7 | Bb7 | Ebmaj7 | C7b9 |", key="Eb"), melody=(key_number("Bb3"), key_number("Eb5"))
)
ALTO = (key_number("A3"), key_number("D5"))
REQUEST = Request(method="shell")


def rows(**asked):
    return compare_keys(SONG, REQUEST, plan, unfold, **asked)


def test_twelve_keys_the_own_first_each_once():
    found = rows()
    assert len({key_number(f"{row.key}4") % 12 for row in found}) == len(found) == 12
    assert (found[0].key, found[0].reason.split(":")[0]) == ("Eb", "as written")


def test_no_key_is_absurd():
    assert all(abs(row.signature) <= 6 for row in rows())


def test_a_key_in_which_the_tune_fits_the_singer_says_so():
    found = {row.key: row for row in rows(singer=ALTO)}
    assert found["Eb"].outside == 1
    assert found["D"].outside == 0
    assert found["D"].reason.startswith("down a half step: the tune tops out on D5")


def test_a_marked_key_is_beaten_by_none_and_an_unmarked_one_by_some():
    found = rows(singer=ALTO)
    assert any(row.best for row in found)
    assert not all(row.best for row in found)
    least = min(found, key=lambda row: (row.effort, row.outside))
    assert all(row.effort >= least.effort for row in found)


def test_horns_read_their_own_keys():
    # Common practice: concert E is F# for a B flat instrument and C# (Db) for an E flat one.
    written = dict({row.key: row for row in rows(horns=("Bb", "Eb"))}["E"].written)
    assert written == {"Bb": "F#", "Eb": "Db"}


def test_the_effort_of_a_key_is_that_of_the_transposed_song():
    from engine.song.transposing import transpose

    found = {row.key: row.effort for row in rows()}
    assert found["G"] == pytest.approx(plan(unfold(transpose(SONG, "G")), REQUEST).effort)
