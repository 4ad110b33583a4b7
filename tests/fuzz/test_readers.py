import pytest

from tests.fuzz.readers import LAWS, seeds


@pytest.mark.parametrize("reader", sorted(LAWS))
def test_what_the_search_begins_with_breaks_no_law(reader: str, tmp_path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("STILLHAND_HOME", str(tmp_path))
    for seed in seeds(reader):
        LAWS[reader](seed)


@pytest.mark.parametrize("reader", sorted(LAWS))
@pytest.mark.parametrize("cut", [0, 1, 7, 40])
def test_what_is_cut_off_or_doubled_breaks_no_law(
    reader: str, cut: int, tmp_path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("STILLHAND_HOME", str(tmp_path))
    for seed in seeds(reader)[:3]:
        LAWS[reader](seed[:cut])
        LAWS[reader](seed[:-cut] + seed[cut:])
