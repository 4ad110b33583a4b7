"""What is offered while a line is typed."""

from tui.input.offers import completed, file_to_add, files, symbols

FOLDER = ("songs/low-tide.toml   Low Tide Lantern", "songs/ferry.toml   Slow Ferry", "pier.toml   Two Piers")


def test_the_last_symbol_of_a_line_is_completed() -> None:
    assert completed("Dm7 G7 | Cma") == "Dm7 G7 | Cmaj7"
    assert symbols("Dm7 G7 | Cma")[:2] == ("Cmaj7", "Cmaj9")


def test_a_letter_alone_is_a_chord_already() -> None:
    assert completed("Dm7 G") is None
    assert completed("") is None


def test_files_are_found_by_name_or_title() -> None:
    assert files(FOLDER, "lantern", 0) == FOLDER[:1]
    assert files(FOLDER, "SONGS", 0) == FOLDER[:2]


def test_the_file_chosen_with_the_arrows_is_added() -> None:
    assert file_to_add(FOLDER, "", 0) == "songs/low-tide.toml"
    assert file_to_add(FOLDER, "", -1) == "songs/ferry.toml"
    assert file_to_add(FOLDER, "piers", 0) == "pier.toml"


def test_a_file_that_is_typed_whole_is_added_though_the_list_has_others() -> None:
    assert file_to_add(FOLDER, "low-tide.toml", 0) == "low-tide.toml"
    assert file_to_add(FOLDER, "nowhere", 0) == "nowhere"
