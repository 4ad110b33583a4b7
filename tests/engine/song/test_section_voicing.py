"""A section says how it is voiced, and the plan does so."""

import pytest

from engine.errors import ChartError
from engine.planning.lineup import request_for
from engine.planning.planner import plan
from engine.song.model import SectionVoicing, SetList
from engine.song.reader import read_song
from engine.song.unfolding import unfold
from engine.song.writing import write_song

SONG = """\
title = "Pier"
key = "C"
meter = "4/4"
tempo = 100
roadmap = "Intro, Verse"

[voicing]
texture = "full"

[sections.Intro]
texture = "lean"
bass = false
bars = "| Dm7 | G7 | Cmaj7 | % |"

[sections.Verse]
bars = "| Fmaj7 | Em7 | Dm7 | Cmaj7 |"
"""


def test_a_song_and_a_section_say_their_texture() -> None:
    song = read_song(SONG, "pier.toml")
    assert song.texture == "full"
    assert song.sections[0].voicing == SectionVoicing(texture="lean", bass=False)
    assert song.sections[1].voicing == SectionVoicing()


def test_what_was_read_is_written_and_read_again() -> None:
    song = read_song(SONG, "pier.toml")
    again = read_song(write_song(song), "pier.toml")
    assert (again.texture, [part.voicing for part in again.sections]) == (
        song.texture,
        [part.voicing for part in song.sections],
    )


def test_the_intro_alone_is_lean_and_the_verse_with_the_band_is_full() -> None:
    song = read_song(SONG, "pier.toml")
    request = request_for(song, SetList(title="Pier", bass=True), (200.0, 200.0))
    planned = plan(unfold(song), request)
    textures = [(step.step.section, step.texture) for step in planned.steps]
    assert textures == [("Intro", "lean")] * 4 + [("Verse", "full")] * 4
    assert all(step.left[0].degree == "1" for step in planned.steps if step.step.section == "Intro")


def test_a_texture_that_is_none_is_a_fault_at_its_place() -> None:
    with pytest.raises(ChartError) as caught:
        read_song(SONG.replace('"lean"', '"leen"'), "pier.toml")
    fault = caught.value.faults[0]
    assert (fault.line, fault.hint) == (11, "did you mean lean?")
