"""What the built-in sound gives, looked at as samples: pitches by Fourier transform, onsets, peaks and silence."""

import numpy as np
import pytest

from engine.performance.events import Note, control, note_off, note_on, program, wire
from tui.audio.synthesizer import RATE, SOUND_OFF, SUSTAIN, VOLUME, Synthesizer, rendered
from tui.audio.tones import hertz


def sound(*notes, seconds=2.0):
    return rendered(wire(notes), seconds)


def strength(samples, key):
    """The amplitude of the samples' spectrum within a quarter tone of a key."""
    spectrum = np.abs(np.fft.rfft(samples * np.hanning(len(samples))))
    at = np.fft.rfftfreq(len(samples), 1 / RATE)
    near = (at > hertz(key) * 2 ** (-0.5 / 24)) & (at < hertz(key) * 2 ** (0.5 / 24))
    return spectrum[near].max()


def loudness(samples, start, end):
    return float(np.sqrt(np.mean(samples[round(start * RATE) : round(end * RATE)] ** 2)))


@pytest.mark.parametrize("keys", [(48, 64, 67, 71), (36, 55, 58, 63), (60,), (52, 56, 62, 65, 69)])
def test_the_planned_pitches_are_the_strongest(keys):
    samples = sound(*(Note(0.0, key, 1.5) for key in keys))
    heard = {key: strength(samples, key) for key in range(30, 100)}
    partials = {key + up for key in keys for up in (12, 19, 24, 28, 31, 34, 36)}
    others = max(value for key, value in heard.items() if key not in partials and key not in keys)
    assert min(heard[key] for key in keys) > 10 * others


def test_concert_pitch_is_440_hertz():
    spectrum = np.abs(np.fft.rfft(sound(Note(0.0, 69, 2.0)) * np.hanning(2 * RATE)))
    assert np.argmax(spectrum) / 2 == pytest.approx(440, abs=0.5)


@pytest.mark.parametrize("at", [0.0, 0.1234, 0.777])
def test_a_note_begins_at_its_sample(at):
    samples = sound(Note(at, 69, 0.5))
    assert not samples[: round(at * RATE)].any()
    assert np.flatnonzero(samples)[0] - round(at * RATE) <= 2


def test_ten_loud_notes_never_reach_full_scale():
    keys = (24, 31, 36, 43, 48, 60, 64, 67, 72, 76)
    samples = sound(*(Note(0.0, key, 1.5, 127) for key in keys))
    assert 0.5 < np.abs(samples).max() < 1


def test_every_voice_at_once_never_reaches_full_scale():
    samples = sound(*(Note(0.0, key, 0.5, 127) for key in range(21, 109)), seconds=0.5)
    assert np.abs(samples).max() < 1


def test_nothing_clicks_where_a_note_ends():
    """The end of a note is no rougher than its middle: no jump from one sample to the next."""
    samples = sound(Note(0.0, 57, 0.5), seconds=1.0)
    steps = np.abs(np.diff(samples, 2))
    assert steps[round(0.5 * RATE) :].max() <= 1.05 * steps[round(0.3 * RATE) : round(0.5 * RATE)].max()


def test_a_note_is_silent_a_tenth_of_a_second_after_its_end():
    assert not sound(Note(0.0, 57, 0.5), seconds=1.0)[round(0.6 * RATE) :].any()


def test_all_sound_off_is_silence_within_twenty_milliseconds():
    messages = [(0.0, note_on(key, 120)) for key in (40, 52, 59, 64)]
    messages += [(0.0, note_on(75, 120, 10))]
    messages += [(0.02, control(SOUND_OFF, 0, channel)) for channel in (1, 10)]
    samples = rendered(messages, 0.2)
    assert samples[: round(0.02 * RATE)].any()
    assert not samples[round(0.04 * RATE) :].any()


def test_a_held_piano_note_decays_and_an_organ_note_does_not():
    piano = sound(Note(0.0, 60, 4.0), seconds=4.0)
    organ = rendered([(0.0, program(16)), *wire((Note(0.0, 60, 4.0),))], 4.0)
    assert loudness(piano, 3.5, 3.9) < 0.5 * loudness(piano, 0.1, 0.5)
    assert loudness(organ, 3.5, 3.9) == pytest.approx(loudness(organ, 0.1, 0.5), rel=0.02)


def test_a_loud_note_is_louder_and_a_volume_of_nought_is_silence():
    assert loudness(sound(Note(0.0, 60, 1.0, 120)), 0, 1) > 3 * loudness(sound(Note(0.0, 60, 1.0, 50)), 0, 1)
    assert not rendered([(0.0, control(VOLUME, 0)), (0.0, note_on(60))], 0.5).any()


def test_the_pedal_keeps_a_released_note():
    held = [(0.0, control(SUSTAIN, 127)), (0.0, note_on(60)), (0.1, note_off(60))]
    assert loudness(rendered(held, 1.0), 0.5, 0.9) > 0.01
    assert loudness(rendered([*held, (0.3, control(SUSTAIN, 0))], 1.0), 0.5, 0.9) == 0


def test_one_is_clicked_higher_than_the_other_beats():
    def pitch(key):
        samples = rendered([(0.0, note_on(key, 120, 10))], 0.1)
        return np.argmax(np.abs(np.fft.rfft(samples))) * 10

    assert pitch(75) > 1.5 * pitch(37)


def test_in_blocks_of_any_length_it_sounds_the_same():
    messages = wire((Note(0.01, 60, 0.3), Note(0.02, 64, 0.3), Note(0.2, 67, 0.1)))
    whole = rendered(messages, 0.5)
    synthesizer, parts, at = Synthesizer(), [], 0
    line = [(round(due * RATE), data) for due, data in messages]
    for size in [17, 256, 511, 1024] * 20:
        end = at + size
        while line and line[0][0] < end:
            place, data = line.pop(0)
            parts.append(synthesizer.block(place - at))
            at = place
            synthesizer.message(data)
        parts.append(synthesizer.block(end - at))
        at = end
    assert np.allclose(np.concatenate(parts)[: len(whole)], whole, atol=1e-6)


def test_messages_it_does_not_know_are_left_alone():
    synthesizer = Synthesizer()
    for data in (b"\xf8", b"\xfe", b"\xe0\x00\x40", b"\xd0\x40", b"\x90\x3c\x00", b"\x99\x20\x40"):
        synthesizer.message(data)
    assert synthesizer.silent
