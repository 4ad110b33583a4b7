"""Sets and songs opened from their files, the demo set found and copied."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.errors import ChartError, EngineError
from tests.tui.sets_in_files import put
from tui.persistence import files, store
from tui.persistence.store import StoreError


def test_the_demo_set_is_copied_and_opens(home: Path) -> None:
    path = store.demo_set()
    assert path.is_relative_to(home)
    evening = store.open_set(path)
    assert len(evening.songs) >= 8
    assert evening.missing == ()


def test_the_players_changes_to_the_demo_set_stay(home: Path) -> None:
    path = store.demo_set()
    path.write_text(path.read_text(encoding="utf-8").replace("Harbour Room", "My Room"), encoding="utf-8")
    assert store.demo_set() == path
    assert store.open_set(path).title == "My Room"


def test_half_a_copy_is_completed() -> None:
    path = store.demo_set()
    path.unlink()
    next((path.parent / "songs").glob("*.toml")).unlink()
    assert store.open_set(store.demo_set()).missing == ()


def test_where_nothing_can_be_written_the_demo_set_opens_as_installed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("STILLHAND_HOME", str(put(tmp_path, "a file") / "home"))
    assert store.open_set(store.demo_set()).songs


def test_a_data_folder_that_may_not_be_looked_into_leaves_the_demo_set_as_installed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def shut(path: Path, **_: object) -> bool:
        raise PermissionError(13, "Permission denied", str(path))

    with monkeypatch.context() as only_here:
        only_here.setattr(Path, "is_file", shut)
        only_here.setattr(Path, "exists", shut)
        path = store.demo_set()
    assert path.parent == files.SHIPPED


def test_what_was_installed_is_never_written_into(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = put(tmp_path, "setlists/songs/a.toml", "as installed")
    monkeypatch.setattr(files, "SHIPPED", tmp_path / "setlists")
    monkeypatch.setattr(files, "CHECKOUT", False)
    with pytest.raises(StoreError, match="as it was installed, save a copy"):
        store.save(path, "mine")
    assert path.read_text(encoding="utf-8") == "as installed"


def test_without_the_variable_each_systems_own_places_are_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("STILLHAND_HOME")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("HOME", str(tmp_path))
    assert "stillhand" in str(store.demo_set())


def test_a_song_opens_as_a_set_of_one(tmp_path: Path) -> None:
    evening = store.open_set(put(tmp_path, "pier.toml"))
    assert [(place.file, place.song.title) for place in evening.songs] == [("pier.toml", "Pier")]


@pytest.mark.parametrize("name", ["sheet.musicxml", "sheet.mxl", "sheet.XML", "chart.txt"])
def test_a_lead_sheet_or_pasted_chart_is_to_be_imported_first(tmp_path: Path, name: str) -> None:
    with pytest.raises(StoreError, match=r"import it: stillhand import \S+ --to (sheet|chart)\.toml"):
        store.open_set(put(tmp_path, name, "| C | F |"))


def test_no_path_opens_the_demo_set() -> None:
    assert store.open_set(None).title == store.open_set(store.demo_set()).title


@pytest.mark.parametrize("place", ["pier.toml", "songs/pier.toml"])
def test_a_song_of_a_set_lies_beside_it_or_in_its_songs_folder(tmp_path: Path, place: str) -> None:
    put(tmp_path, place)
    path = put(tmp_path, "set.toml", 'title = "S"\n[[songs]]\nfile = "pier.toml"\n')
    assert store.open_set(path).songs[0].song.title == "Pier"


def test_a_missing_song_is_marked_and_the_rest_opens(tmp_path: Path) -> None:
    put(tmp_path, "pier.toml")
    text = 'title = "S"\n[[songs]]\nfile = "peer.toml"\n[[songs]]\nfile = "pier.toml"\n'
    evening = store.open_set(put(tmp_path, "set.toml", text))
    assert evening.missing == (("peer.toml", "there is no such file, did you mean pier.toml?"),)
    assert len(evening.songs) == 1


def test_a_set_with_a_reach_in_words_knows_it_in_millimetres(tmp_path: Path) -> None:
    put(tmp_path, "pier.toml")
    text = 'title = "S"\nreach = ["a ninth", 215]\n[[songs]]\nfile = "pier.toml"\n'
    reach = store.open_set(put(tmp_path, "set.toml", text)).reach
    assert reach is not None
    assert reach[0] > 180
    assert reach[1] == 215


def test_a_file_of_neither_songs_nor_sections_says_what_a_set_has(tmp_path: Path) -> None:
    with pytest.raises(ChartError, match=r"\[\[songs\]\]"):
        store.open_set(put(tmp_path, "set.toml", 'title = "S"\n'))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary(max_size=200))
def test_any_bytes_open_or_are_refused_in_words(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "noise.toml"
    path.write_bytes(content)
    with pytest.raises(EngineError):
        store.open_set(path)


@pytest.mark.parametrize("table", ["[[song]]", "[songs]", "song = [{"])
def test_a_set_whose_table_of_songs_is_misspelt_is_no_song(tmp_path: Path, table: str) -> None:
    path = tmp_path / "friday.toml"
    end = "" if table.startswith("[") else "}]"
    path.write_text(f'title = "Friday"\n{table}\nfile = "pier.toml"\nkey = "Am"\n{end}', encoding="utf-8")
    with pytest.raises(EngineError) as fault:
        store.open_set(path)
    assert "sections" not in str(fault.value)
