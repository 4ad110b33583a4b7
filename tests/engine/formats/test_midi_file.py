"""Files are read back by three libraries that know nothing of ours: mido, music21 and symusic."""

import io
from dataclasses import replace
from fractions import Fraction

import mido
import music21
import pytest
import symusic

from engine.formats.midi_file import GAP_BARS, key_signature, midi_file, set_midi_file
from engine.formats.midi_texts import plain, plain_name
from engine.formats.midi_ticks import TICKS
from engine.performance.rendering import plan_notes
from engine.performance.sound_settings import Touch
from engine.song.model import Midi, Song
from engine.theory.meter import Meter
from tests.engine.performance.by_hand import FOUR, plan_by_hand

SONG = Song("Low Tide Lantern", "Eb", FOUR, 97.3)
PLAN = plan_by_hand(
    (4, (51,), (62, 67), {"symbol": "E♭Δ7", "key": "Eb", "section": "Verse", "passes": 2}),
    (2, (48,), (62, 67), {"symbol": "Cm7", "key": "Eb", "section": "Verse", "passes": 2}),
    (2, (41,), (63, 69), {"symbol": "Fø7", "key": "Eb", "section": "Verse", "passes": 2, "mark": "push"}),
    (4, (46,), (62, 68), {"symbol": "B°", "key": "Ab", "section": "Bridge", "section_start": True}),
    (4, (), (), {"symbol": "N.C.", "key": "Ab", "section": "Bridge"}),
)


def read(data):
    return mido.MidiFile(file=io.BytesIO(data))


def metas(track, kind):
    at, found = 0, []
    for message in track:
        at += message.time
        if message.type == kind:
            found.append((at, message))
    return found


def named(file, name):
    return next(track for track in file.tracks if track.name == name)


def notes_of(track, file):
    """(seconds, key, seconds it lasts) as mido plays them at one tempo."""
    tempo = metas(file.tracks[0], "set_tempo")[0][1].tempo
    at, down, notes = 0, {}, []
    for message in track:
        at += message.time
        seconds = at * tempo / 1e6 / file.ticks_per_beat
        if message.type == "note_on":
            down[message.note] = seconds
        elif message.type == "note_off":
            notes.append((down[message.note], message.note, seconds - down.pop(message.note)))
    assert not down
    return sorted(notes)


def test_each_hand_has_its_own_track():
    file = read(midi_file(SONG, PLAN))
    assert file.type == 1
    assert [track.name for track in file.tracks] == ["Low Tide Lantern", "Chords", "Right hand", "Left hand"]
    assert {message.note for message in named(file, "Left hand") if message.type == "note_on"} == {51, 48, 41, 46}


def test_notes_are_where_the_plan_plays_them():
    file = read(midi_file(SONG, PLAN))
    written = sorted(notes_of(named(file, "Left hand"), file) + notes_of(named(file, "Right hand"), file))
    touch = Touch(restrike="bar")
    planned = sorted((note.seconds, note.key, note.lasts) for note in plan_notes(PLAN, 97.3, touch=touch))
    assert [key for _, key, _ in written] == [key for _, key, _ in planned]
    for (at, _, lasts), (due, _, length) in zip(written, planned, strict=True):
        assert (at, lasts) == (pytest.approx(due, abs=0.001), pytest.approx(length, abs=0.001))


def test_a_common_tone_of_an_organ_is_one_long_note():
    file = read(midi_file(replace(SONG, sound="organ"), PLAN))
    assert [key for _, key, _ in notes_of(named(file, "Right hand"), file)].count(67) == 1


def test_sections_are_markers_and_chords_are_lyrics_in_plain_letters():
    file = read(midi_file(SONG, PLAN))
    markers = [(at, message.text) for at, message in metas(file.tracks[0], "marker")]
    assert markers == [(0, "Verse"), (8 * TICKS, "Bridge")]
    lyrics = [(at // TICKS, message.text) for at, message in metas(named(file, "Chords"), "lyrics")]
    assert lyrics == [(0, "Ebmaj7"), (4, "Cm7"), (6, "Fm7b5"), (8, "Bdim"), (12, "N.C.")]


def test_a_key_change_inside_a_song_is_written_where_it_happens():
    keys = [(at, message.key) for at, message in metas(read(midi_file(SONG, PLAN)).tracks[0], "key_signature")]
    assert keys == [(0, "Eb"), (8 * TICKS, "Ab")]


MAJOR = ["Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C", "G", "D", "A", "E", "B", "F#", "C#"]
MINOR = ["Abm", "Ebm", "Bbm", "Fm", "Cm", "Gm", "Dm", "Am", "Em", "Bm", "F#m", "C#m", "G#m", "D#m", "A#m"]


@pytest.mark.parametrize("key", MAJOR + MINOR)
def test_all_thirty_keys_are_read_back_by_two_libraries(key):
    plan = plan_by_hand((4, (48,), (), {"key": key}))
    data = midi_file(Song("Try", key, FOUR, 120), plan)
    assert [message.key for _, message in metas(read(data).tracks[0], "key_signature")] == [key]
    signs = (MAJOR.index(key) if key in MAJOR else MINOR.index(key)) - 7
    (signature,) = symusic.Score.from_midi(data).key_signatures
    assert (signature.key, signature.tonality) == (signs, int(key in MINOR))


@pytest.mark.parametrize(("key", "written"), [("G#", "Ab"), ("Fb", "E"), ("D#", "Eb"), ("Dbm", "C#m"), ("E#m", "Fm")])
def test_a_key_of_more_than_seven_signs_is_respelled(key, written):
    assert key_signature(key) == written


@pytest.mark.parametrize("tempo", [97, 113.7, 143, 199, 66.6, 291])
@pytest.mark.parametrize("meter", [Meter(4, 4), Meter(6, 8), Meter(7, 8)])
def test_five_minutes_at_an_odd_tempo_are_off_by_less_than_a_millisecond(tempo, meter):
    song = Song("Try", "C", meter, tempo)
    bars = round(300 / (meter.beats * meter.beat_seconds(tempo)))
    plan = plan_by_hand(*[(meter.beats, (48,), ()) for _ in range(bars)], meter=meter)
    exact = bars * meter.beats * meter.beat_seconds(tempo)
    assert read(midi_file(song, plan)).length == pytest.approx(exact, abs=0.001)


def test_music21_reads_tempo_meter_key_and_notes():
    score = music21.converter.parseData(midi_file(SONG, PLAN), format="midi")
    flat = score.flatten()
    (tempo,) = {mark.number for mark in flat.getElementsByClass(music21.tempo.MetronomeMark)}
    assert tempo == pytest.approx(97.3, abs=0.01)
    assert {time.ratioString for time in flat.getElementsByClass(music21.meter.TimeSignature)} == {"4/4"}
    assert {key.sharps for key in flat.getElementsByClass(music21.key.KeySignature)} == {-3, -4}
    sounding = {pitch.midi for note in flat.notes for pitch in note.pitches}
    assert sounding == {key for step in PLAN.steps for key in step.keys}


def test_symusic_reads_the_same_notes_markers_and_lyrics():
    score = symusic.Score.from_midi(midi_file(SONG, PLAN))
    assert [marker.text for marker in score.markers] == ["Verse", "Bridge"]
    read_by_mido = read(midi_file(SONG, PLAN))
    for track in score.tracks:
        ours = notes_of(named(read_by_mido, track.name), read_by_mido)
        assert sorted(note.pitch for note in track.notes) == sorted(key for _, key, _ in ours)
    (tempo,) = score.tempos
    assert tempo.qpm == pytest.approx(97.3, abs=0.01)
    lyrics = [lyric.text for track in score.tracks for lyric in track.lyrics]
    assert lyrics in ([], ["Ebmaj7", "Cm7", "Fm7b5", "Bdim", "N.C."])


def test_the_count_comes_before_the_music_on_a_track_of_its_own():
    file = read(midi_file(SONG, PLAN, counted=True))
    clicks = notes_of(named(file, "Count-in"), file)
    assert len(clicks) == 4
    assert metas(file.tracks[0], "marker")[0][0] == 4 * TICKS
    assert {message.channel for message in named(file, "Count-in") if message.type == "note_on"} == {9}


def test_a_pickup_makes_a_short_bar_so_that_bar_lines_fall_where_they_are_heard():
    plan = plan_by_hand((Fraction(3, 2), (48,), (), {"bar": 0}), (4, (50,), (), {"bar": 1, "beat": Fraction(1)}))
    times = metas(read(midi_file(SONG, plan)).tracks[0], "time_signature")
    assert [(at, f"{m.numerator}/{m.denominator}") for at, m in times] == [(0, "3/8"), (round(1.5 * TICKS), "4/4")]


def test_count_and_pickup_together_fill_their_bars():
    plan = plan_by_hand((1, (48,), (), {"bar": 0}), (4, (50,), (), {"bar": 1, "beat": Fraction(1)}))
    times = metas(read(midi_file(SONG, plan, counted=True)).tracks[0], "time_signature")
    assert [(at, f"{m.numerator}/{m.denominator}") for at, m in times] == [(0, "4/4")]


def test_a_bar_in_another_meter_keeps_its_speed():
    steps = [(4, (48,), ()), (2, (50,), (), {"meter": Meter(6, 8)}), (4, (43,), ())]
    plan = plan_by_hand(*steps)
    file = read(midi_file(SONG, plan))
    seconds = 8 * 60 / 97.3 + 2 * 60 / 97.3
    assert file.length == pytest.approx(seconds, abs=0.001)
    assert len(metas(file.tracks[0], "time_signature")) == 3


def test_the_sound_is_called_up_on_every_channel_that_is_played():
    file = read(midi_file(SONG, PLAN, touch=Touch(channel=3, left_channel=4, program=16)))
    programs = [(m.channel, m.program) for track in file.tracks for m in track if m.type == "program_change"]
    assert programs == [(2, 16), (3, 16)]


def test_a_song_without_chords_is_a_file_all_the_same():
    file = read(midi_file(SONG, plan_by_hand(), counted=True))
    assert metas(file.tracks[0], "set_tempo")


@pytest.mark.parametrize(
    ("text", "written"), [("B♭Δ7", "Bbmaj7"), ("Café", "Cafe"), ("F♯ø", "F#m7b5"), ("海", ""), ("C7", "C7")]
)
def test_texts_are_written_in_letters_that_every_program_reads(text, written):
    assert plain(text) == written


@pytest.mark.parametrize(
    ("name", "written"),
    # Cyrillic as BGN/PCGN 1947 has it, Greek as ISO 843 (both from memory), the others common practice.
    [("Smørrebrød", "Smorrebrod"), ("Straße", "Strasse"), ("Тихий причал", "Tikhiy prichal"), ("Нева", "Neva"),
     ("Λιμάνι", "Limani"), ("Łódź – “Café”", 'Lodz - "Cafe"')],
)  # fmt: skip
def test_a_name_in_any_script_is_spelled_in_plain_letters(name, written):
    assert plain_name(name) == written


def test_a_letter_of_a_name_is_no_sign_of_a_chord():
    file = read(midi_file(replace(SONG, title="Smørrebrød"), plan_by_hand()))
    assert file.tracks[0].name == "Smorrebrod"


def test_both_hands_are_on_one_channel_as_when_they_are_played_live():
    file = read(midi_file(SONG, PLAN))
    assert {message.channel for track in file.tracks for message in track if message.type == "note_on"} == {0}


def test_the_left_hand_may_have_a_channel_of_its_own():
    file = read(midi_file(SONG, PLAN, touch=Touch(left_channel=4)))
    assert {message.channel for message in named(file, "Left hand") if message.type == "note_on"} == {3}


def test_a_songs_program_bank_channel_and_volume_are_in_its_file():
    song = replace(SONG, midi=Midi(channel=3, program=17, bank=(87 << 7) + 2, volume=90))
    file = read(midi_file(song, PLAN))
    kinds = ("control_change", "program_change")
    called = [message for track in file.tracks for message in track if message.type in kinds]
    assert [message.bytes() for message in called] == [[0xB2, 0, 87], [0xB2, 32, 2], [0xC2, 16], [0xB2, 7, 90]]


@pytest.mark.parametrize(("meter", "clocks"), [((4, 4), 24), ((6, 8), 36), ((2, 2), 48), ((7, 8), 12)])
def test_the_metronome_counts_the_beats_that_the_foot_taps(meter, clocks):
    # Standard MIDI Files 1.0, time signature: MIDI clocks (24 a quarter) in a metronome click.
    song = replace(SONG, meter=Meter(*meter))
    plan = plan_by_hand((Meter(*meter).beats, (51,), (62, 67)), meter=Meter(*meter))
    (found,) = metas(read(midi_file(song, plan)).tracks[0], "time_signature")
    assert found[1].clocks_per_click == clocks


def test_in_a_file_too_a_piano_strikes_shared_keys_in_every_bar_and_an_organ_holds_them():
    plan = plan_by_hand((4, (51,), (62, 67)), (4, (48,), (62, 67)))
    times = {}
    for sound in ("piano", "organ"):
        file = read(midi_file(replace(SONG, sound=sound), plan))
        times[sound] = [key for _, key, _ in notes_of(named(file, "Right hand"), file)].count(67)
    assert times == {"piano": 2, "organ": 1}


def test_a_comping_rhythm_is_in_the_file():
    plan = plan_by_hand((4, (51,), (62, 67), {"comp": "charleston"}))
    file = read(midi_file(SONG, plan))
    beat = 60 / 97.3
    starts = sorted({at for at, _, _ in notes_of(named(file, "Right hand"), file)})
    assert starts == pytest.approx([0, 1.5 * beat], abs=0.001)


WALTZ = Song("Två bryggor", "F", Meter(3, 4), 150.5, sound="organ", midi=Midi(program=17, volume=90))
WALTZ_PLAN = plan_by_hand(
    (1, (48,), (64,), {"bar": 0, "symbol": "C7", "key": "F", "section": "A"}),
    (3, (53,), (65, 69), {"bar": 1, "beat": Fraction(1), "symbol": "F", "key": "F", "section": "A"}),
    (3, (53,), (65, 69), {"bar": 2, "beat": Fraction(1), "symbol": "F", "key": "F", "section": "A", "mark": "ring"}),
    meter=Meter(3, 4),
)
EVENING = [(WALTZ, WALTZ_PLAN, None), (SONG, PLAN, None), (replace(WALTZ, midi=Midi(channel=2)), WALTZ_PLAN, None)]


NOT_MUSIC = ("track_name", "end_of_track", "program_change", "control_change")


def at_ticks(data, start=0, end=10**9):
    """Every message by its track, the ticks counted from `start`; not how a channel is to sound, nor names."""
    found = []
    for place, track in enumerate(read(data).tracks):
        at = 0
        for message in track:
            at += message.time
            if start <= at <= end and message.type not in NOT_MUSIC:
                found.append((place, at - start, message.copy(time=0)))
    return found


@pytest.mark.parametrize("counted", [False, True])
def test_in_a_file_of_several_songs_each_is_as_in_its_own_file(counted):
    data = set_midi_file("Harbour", EVENING, counted)
    titles = ["Tva bryggor", "Low Tide Lantern", "Tva bryggor"]
    found = [(at, message.text) for at, message in metas(read(data).tracks[0], "marker") if message.text in titles]
    assert [title for _, title in found] == titles
    for (start, title), (song, plan, _) in zip(found, EVENING, strict=True):
        alone = midi_file(song, plan, counted)
        last = sum(message.time for message in read(alone).tracks[0])
        ours = [one for one in at_ticks(data, start, start + last) if one[2] != mido.MetaMessage("marker", text=title)]
        assert ours == at_ticks(alone)


def test_between_two_songs_of_a_file_are_two_bars_of_silence():
    data = set_midi_file("Harbour", EVENING)
    starts = [at for at, mark in metas(read(data).tracks[0], "marker") if mark.text == "Low Tide Lantern"]
    assert starts == [(7 + GAP_BARS * 3) * TICKS]
    assert not at_ticks(data, 7 * TICKS + 1, starts[0] - 1)
    seconds = 2 * (7 * 60 / 150.5) + 16 * 60 / 97.3 + 2 * (3 * 60 / 150.5) + 2 * (4 * 60 / 97.3)
    assert read(data).length == pytest.approx(seconds, abs=0.002)


def test_a_song_of_a_file_does_not_inherit_the_sound_of_the_song_before():
    songs = [(song, PLAN, None) for song in (replace(SONG, midi=Midi(program=17)), SONG, SONG)]
    file = read(set_midi_file("Harbour", songs))
    assert [one.program for track in file.tracks for one in track if one.type == "program_change"] == [16, 0]


def test_a_set_without_songs_is_a_file_that_can_be_read():
    assert read(set_midi_file("Harbour", [])).tracks[0].name == "Harbour"
