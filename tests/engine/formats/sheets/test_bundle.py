import io
from dataclasses import replace

import pytest

from engine.formats.plain_text import set_text
from engine.formats.sheets.bundle import bundle_pdf, cue_sheet_pdf, set_list_pdf, sheets
from engine.formats.sheets.cue_sheet import Sheet
from engine.formats.sheets.paper import SMALLEST
from engine.planning.planner import plan
from engine.song.model import SetList, SetSong
from engine.song.reader import song_from_chart
from engine.song.unfolding import unfold

pypdf = pytest.importorskip("pypdf", reason="pypdf reads printed sheets back")


def pages(data: bytes) -> list[str]:
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(data)).pages]


def test_a_cue_sheet_says_title_key_tempo_form_and_ending_on_one_page(planned):
    (page,) = pages(cue_sheet_pdf(Sheet(*planned)))
    for words in (
        "Two Lamps",
        "E♭",
        "♩ = 112",
        "swing",
        "count two bars",
        "piano alone",
        "Tag: E♭6, hold",
        "B♭3 to E♭5",
    ):
        assert words in page


def test_a_cue_sheet_has_every_chord_with_its_own_signs(planned):
    (page,) = pages(cue_sheet_pdf(Sheet(*planned)))
    for chord in ("A♭maj7", "B♭9sus4", "F♯m7♭5", "E♭6"):
        assert chord in page


def test_the_hardest_shifts_stand_below_with_place_and_time(planned):
    (page,) = pages(cue_sheet_pdf(Sheet(*planned)))
    assert "hardest shifts" in page
    assert "→" in page
    assert "bar" in page
    assert "hardest shifts" not in pages(cue_sheet_pdf(Sheet(planned[0])))[0]


@pytest.mark.parametrize(("paper", "points"), [("a4", (595, 842)), ("letter", (612, 792))])
def test_the_page_has_the_size_asked_for(planned, paper, points):
    page = pypdf.PdfReader(io.BytesIO(cue_sheet_pdf(Sheet(*planned), paper))).pages[0]
    assert tuple(round(float(side)) for side in page.mediabox[2:]) == points


def test_nothing_is_set_in_less_than_ten_points(planned, demo):
    songs = [(place.song, plan(unfold(place.song))) for place in demo.songs[:3]]
    sizes = set()
    for data in (cue_sheet_pdf(Sheet(*planned)), bundle_pdf(demo, songs)):
        for page in pypdf.PdfReader(io.BytesIO(data)).pages:
            page.extract_text(visitor_text=lambda _text, _cm, _tm, _font, size: sizes.add(round(size, 1)))
    assert min(sizes) >= SMALLEST


def test_every_font_is_embedded(planned):
    page = pypdf.PdfReader(io.BytesIO(cue_sheet_pdf(Sheet(*planned)))).pages[0]
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    assert fonts
    for font in fonts:
        below = font["/DescendantFonts"][0].get_object()["/FontDescriptor"].get_object()
        assert "/FontFile2" in below


def test_the_same_song_is_the_same_file(planned):
    assert cue_sheet_pdf(Sheet(*planned)) == cue_sheet_pdf(Sheet(*planned))


def test_a_horn_reads_its_written_pitch_without_hands(planned):
    song, plan = planned
    (sheet,) = sheets(SetList("Set"), [(song, plan)], "Bb")
    (page,) = pages(cue_sheet_pdf(sheet))
    assert "written for B♭" in page
    assert "Fmaj7" in page
    assert "E♭" not in page
    assert "hardest" not in page


def test_the_bundle_is_the_set_list_and_a_page_a_song(demo):
    entries = [(place.song, None) for place in demo.songs]
    found = pages(bundle_pdf(demo, entries))
    assert len(found) == 1 + len(demo.songs)
    for place, page in zip(demo.songs, found[1:], strict=True):
        assert place.song.title in found[0]
        assert place.song.title in page
    assert f"next: {demo.songs[1].song.title}" in found[1]


def test_a_long_evening_goes_on_further_pages_in_letters_that_stay_large(demo):
    song = demo.songs[0].song
    found = pages(set_list_pdf(demo, [(song, None)] * 60))
    assert len(found) == 3
    assert "60" in found[-1]


def test_a_song_of_three_hundred_bars_goes_on_without_losing_one(planned):
    bars = "".join(f"| {'Cm' if number % 2 else 'C7'} F G Am " for number in range(300)) + "|"
    song = replace(song_from_chart(bars), title="Long Road")
    found = pages(cue_sheet_pdf(Sheet(song)))
    assert len(found) > 1
    assert all("Long Road, continued" in page for page in found[1:])
    assert sum(page.count("Am") for page in found) >= 299


@pytest.mark.parametrize("title", ["", "a" * 300, "Слободка", "夜の港", "\u202e♭\u0000x"])
def test_any_title_is_printed_and_the_typeface_is_never_in_the_way(title, caplog):
    song = replace(song_from_chart("| C |"), title=title)
    assert len(pages(cue_sheet_pdf(Sheet(song)))) == 1
    assert not caplog.messages


def test_an_empty_set_is_a_page_with_its_title():
    (page,) = pages(bundle_pdf(SetList("Nothing yet"), []))
    assert "Nothing yet" in page


def test_a_song_without_bars_is_a_page_all_the_same(song):
    assert len(pages(cue_sheet_pdf(Sheet(replace(song, roadmap=(), sections=()))))) == 1


def test_sheets_know_their_place_in_the_set(song):
    set_list = SetList("Evening", songs=(SetSong("a", song), SetSong("b", song)))
    first, last = sheets(set_list, [(song, None), (song, None)])
    assert (first.place, first.after) == ("Evening, 1 of 2", "next: Two Lamps, E♭, 112")
    assert last.after == "last song"


def test_sheets_count_as_the_set_is_written_with_the_songs_that_do_not_open(song):
    evening = SetList(
        "Evening",
        songs=(SetSong("a.toml", song, number=1), SetSong("c.toml", song, number=3)),
        missing=(("b.toml", "?"),),
    )
    found = sheets(evening, [(song, None), (song, None)])
    assert [sheet.place for sheet in found] == ["Evening, 1 of 3", "Evening, 3 of 3"]
    assert "  3  Two Lamps" in set_text(evening, [song, song])


def test_the_outline_leads_to_every_song_and_section(planned):
    song = planned[0]
    reader = pypdf.PdfReader(io.BytesIO(bundle_pdf(SetList("Pier night", songs=(SetSong("a", song),)), [planned])))
    first, *rest = reader.outline
    names = [inner.title for inner in rest[-1]]
    assert (first.title, rest[0].title) == ("Pier night", song.title)
    assert names == [section.name for section in song.sections if section.name in song.roadmap]


def test_a_document_says_its_language_and_title(planned):
    reader = pypdf.PdfReader(io.BytesIO(cue_sheet_pdf(Sheet(*planned))))
    root = reader.trailer["/Root"]
    assert (reader.metadata.title, root["/Lang"]) == (planned[0].title, "en")
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]


def test_a_page_that_goes_on_says_key_and_page():
    song = replace(song_from_chart("| Cm7 F7 Bb7 Eb7 " * 220 + "|"), title="Long", key="Eb")
    found = pages(cue_sheet_pdf(Sheet(song)))
    assert len(found) > 1
    assert "Long, continued" in found[1]
    assert "E♭, page 2" in found[1]
