"""The player's settings as they are written: read again the same, and no line of the player's own is lost."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from tests.tui.spoilt_settings import SPOILT, WHOLE
from tui.persistence.player import Player, Singer
from tui.persistence.player_reader import read_player
from tui.persistence.player_writer import changed_player, write_player

PLAYER = Player(
    register=(36, 96),
    reach=(200.0, 190.5), port_out="Piano", pedal="control 64 channel 1 inverted", channel=3, theme="light",
    guide="early", click=False, hands_step=True, lead="Network 1", follow="Network 2", pedal_cue="note 36 channel 10",
    program="17", bank=1, volume=100,
    singers=(Singer("Ines", 55, 74, 57, 72), Singer("Bo", 40, 60)), keys=(("stand.forward", "space"),),
)  # fmt: skip


def test_a_program_is_a_number_without_quotes() -> None:
    assert "program = 17" in write_player(Player(program="17"))


def test_a_player_is_written_and_read_the_same() -> None:
    assert read_player(write_player(PLAYER)) == PLAYER


@given(st.lists(st.sampled_from([*"".join(SPOILT).splitlines(), "", "[keys]", "# a word"]), max_size=8))
def test_no_line_is_lost_whatever_stands_in_the_file(lines: list[str]) -> None:
    text = "\n".join(lines) + "\n"
    try:
        before = read_player(text)
    except ValueError:
        return
    after = replace(before, volume=99, hands_step=not before.hands_step)
    changed = changed_player(text, before, after).splitlines()
    kept = [line for line in lines if not line.startswith(("volume", "hands_step"))]
    assert [line for line in kept if line and line not in changed] == []


@given(
    st.lists(st.tuples(st.integers(0, len(WHOLE)), st.integers(0, 5), st.text("[]\"=#\n\t\\é,.x0'", max_size=3))),
    st.sampled_from(["\n", "\r\n"]),
)
def test_whatever_is_mistyped_no_line_of_the_file_is_lost(spoils: list[tuple[int, int, str]], end: str) -> None:
    text = WHOLE
    for start, gone, put_in in spoils:
        text = text[:start] + put_in + text[start + gone :]
    text = text.replace("\n", end)
    try:
        before = read_player(text)
        changed = changed_player(text, before, replace(before, volume=99, hands_step=not before.hands_step))
    except ValueError:
        return
    assert [line for line in text.splitlines() if line.strip() and line not in changed.splitlines()] == []
    assert read_player(changed).volume == 99
