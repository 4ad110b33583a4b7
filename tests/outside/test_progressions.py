"""Open progressions of real songs, planned under four line-ups and three reaches."""

import pytest

from engine.hand.keyboard import span
from engine.planning.model import Request
from engine.planning.planner import plan
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold

LINE_UPS = [{}, {"bass": True}, {"bass": True, "guitar": True, "colour": True}, {"hands": "left"}]
REACHES = [170.0, 200.0, 227.0]
CHORDS = 32
"""Chords of each song that are planned here: enough to meet every kind of shift, few enough for every run."""


@pytest.mark.parametrize("name", ["progressions_billboard.json", "progressions_openewld.json"])
@pytest.mark.parametrize("number", range(len(LINE_UPS)))
def test_every_song_plans_within_reach_and_above_the_floor(corpus, name, number):
    line_up = LINE_UPS[number]
    for place, song in enumerate(corpus(name)[number :: len(LINE_UPS)]):
        chart = "| " + " | ".join(symbol for symbol, _ in song["chords"][:CHORDS]) + " |"
        reach = REACHES[place % len(REACHES)]
        found = plan(unfold(song_from_chart(chart, key=song["key"])), Request(reach=(reach, reach), **line_up))
        for step in found.steps:
            assert bool(step.keys) == (step.step.chord is not None), (song["id"], step.step.symbol, step.warnings)
            assert all(not hand or span(hand[0].key, hand[-1].key) <= reach for hand in (step.left, step.right))
            assert not line_up.get("bass") or not step.keys or min(step.keys) >= 48
