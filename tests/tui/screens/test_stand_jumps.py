"""Going about a song: jumps to sections and bars, vamps and their cues."""

import pytest

from tests.tui.showing import place, running, shown, stand_app


async def test_a_section_is_two_keys_away() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j")
        assert "i Intro  v Verse  b Bridge" in shown(app)[0]
        await pilot.press("b")
        assert place(app).startswith("Bridge, bar 1 of 4")


async def test_two_before_the_bridge_is_two_keys() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("2", "b")
        assert place(app).startswith("Verse, bar 3 of 4, pass 2 of 2")


async def test_bars_back_is_a_digit_and_forward() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "b", "enter", "2", "enter")
        assert place(app).startswith("Verse, bar 3 of 4")


async def test_a_bar_of_this_section_is_jump_its_number_and_enter() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "v", "enter", "j", "3", "enter")
        assert place(app).startswith("Verse, bar 3 of 4")


async def test_the_rest_of_a_sections_name_is_text_and_no_command() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", *"verse")
        assert place(app).startswith("Verse, bar 1 of 4, pass 1 of 2")
        assert "verse: Verse" in shown(app)[0]
        await pilot.press("enter", "space")
        assert place(app).startswith("Verse, bar 2 of 4")


async def test_more_letters_choose_between_sections_that_begin_alike() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "v", "a")
        assert place(app).startswith("Vamp, bar 1")
        await pilot.press("z")
        assert "no section begins with vaz" in shown(app)[0]
        await pilot.press("enter")
        assert place(app).startswith("Vamp, bar 1")


async def test_a_bar_of_another_section_is_its_letter_and_the_number() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", *"b3", "enter")
        assert place(app).startswith("Bridge, bar 3 of 4")


async def test_the_letters_of_a_jump_survive_a_narrow_window() -> None:
    app = stand_app()
    async with running(app, size=(46, 20)) as pilot:
        await pilot.press("j")
        assert shown(app)[0].rstrip().endswith("t Tag")


async def test_jump_and_forward_is_the_section_again() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "b", "space", "space", "j", "enter")
        assert place(app).startswith("Bridge, bar 1")


async def test_a_letter_of_no_section_is_said() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "z")
        assert "no section has the letter z" in shown(app)[0]
        await pilot.press("space")
        assert "Harbour Steps" in shown(app)[0]


async def test_up_and_down_go_section_by_section_and_home_is_the_top() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("down", "down")
        assert place(app).startswith("Verse, bar 1 of 4, pass 2")
        await pilot.press("up")
        assert place(app).startswith("Verse, bar 1 of 4, pass 1")
        await pilot.press("home")
        assert place(app).startswith("Intro, bar 1")


@pytest.mark.parametrize("key", ["end", "e"])
async def test_the_last_ending_is_one_key(key: str) -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press(key)
        assert place(app).startswith("Tag, bar 1")


async def test_a_vamp_waits_for_its_cue() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "a", "space", "space")
        assert place(app).startswith("Vamp, bar 1 of 2")
        assert "VAMP until cue" in place(app)
        await pilot.press("c")
        assert "CUE GIVEN" in place(app)
        await pilot.press("space", "space")
        assert place(app).startswith("Tag")


async def test_the_cue_words_of_a_section_are_shown() -> None:
    app = stand_app()
    async with running(app) as pilot:
        await pilot.press("j", "v")
        assert "drums out" in place(app)
