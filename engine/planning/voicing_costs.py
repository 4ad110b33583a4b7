"""What voicings cost as they stand, fingers aside: how they sound, where they lie, what they leave out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from engine.chord.model import Chord
from engine.ear.limits import LOWEST_CLEAR
from engine.hand.fingering import FREE, Floats, Ints
from engine.planning.left_hand.slots import Pattern
from engine.planning.lineup import Zone
from engine.planning.own_tune.voicings import Top, topped
from engine.planning.weights import GRAIN, WEIGHTS
from engine.voicing.methods import Bounds, bounds, kind, shapes
from engine.voicing.model import Setting, Voicing
from engine.voicing.stacking import Keys
from engine.voicing.textures import Texture, sized
from engine.voicing.tones import NEVER_DOUBLED, TENSIONS, plain_fifth, seventh, sounding_third, tension_sets

TERMS = (
    "mud", "zone", "pull", "line", "over", "rub", "doubling", "ninth", "gap", "omission", "bassist", "thin", "plain",
    "unasked", "untold", "ending", "under",
)  # fmt: skip
"""The terms of a voicing as it stands, in the order of `Standing.terms`."""


@dataclass(frozen=True, slots=True)
class Ask:
    """All that the states of a chord depend on beside the chord; `top`: where the top note lies well; `roll`: a hand
    may play wider than its reach, the low note first; `tenths`: a spread's left hand may; `tune`: notes (MIDI numbers,
    ascending) that somebody else holds over the chord; `pattern`: what the left hand plays instead of a grip; `own`:
    the note of the player's own tune that the right hand has on top, `between` those that it plays after it (MIDI
    numbers, in their order); `sound` as in a `Request`, where there are any."""

    setting: Setting
    textures: tuple[Texture, ...]
    reach: tuple[float, float]
    zones: tuple[Zone, Zone]
    top: Zone
    roll: bool = False
    tenths: bool = False
    tune: tuple[int, ...] = ()
    pattern: Pattern | None = None
    own: Top | None = None
    between: tuple[int, ...] = ()
    sound: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """p voicings of one chord or several, each of a texture, a left hand and a right hand, given by their numbers.

    `lefts`, `rights`: the different hands of each chord, n x 5 keys, ascending, filled up with `FREE`. `chords`
    (ascending), `textures`, `left`, `right`: p. `terms`: p x terms, in grains, in the order of `TERMS`.
    """

    lefts: Ints
    rights: Ints
    chords: Ints
    textures: Ints
    left: Ints
    right: Ints
    terms: Ints

    @property
    def costs(self) -> Ints:
        """The cost of each voicing in grains."""
        total: Ints = self.terms.sum(axis=1, dtype=np.int32)
        return total


def standing(chords: Sequence[Chord], ask: Ask) -> Standing:
    """Return the voicings of chords by all the textures asked that lie in the registers, reach not yet asked."""
    found = _together([(_table_of(chord, ask), chord.root.pc) for chord in chords])
    below, above = bounds(ask.setting)
    fits = _fits(found.lefts, below)[found.left] & _fits(found.rights, above)[found.right]
    within = (getattr(found, name)[fits] for name in ("chords", "textures", "left", "right", "terms"))
    return _placed(Standing(found.lefts, found.rights, *within), chords, ask)


def standing_as_told(chord: Chord, voicings: Sequence[Voicing], textures: Sequence[int], ask: Ask) -> Standing:
    """Return some voicings as they stand, wherever they lie; `textures` says which of those asked each is from."""
    hands = [(one.left, one.right) for one in voicings]
    return _placed(_laid_out(hands, textures, chord, ask.setting, ask.own), [chord], ask)


def beneath(chord: Chord, setting: Setting) -> int | None:
    """Return the pitch class that somebody else plays beneath the hands, None where nobody does."""
    return None if setting.owes_bass else chord.bass.pc


def hands_with_tune(chord: Chord, texture: Texture, ask: Ask) -> tuple[tuple[Keys, Keys], ...]:
    """Return the hands of a texture, the note of the player's own tune on top, wherever they lie."""
    assert ask.own is not None
    up = chord.root.pc
    return tuple(
        (tuple(key + up for key in left), tuple(key + up for key in right))
        for left, right in topped(kind(chord), texture, ask.setting, ask.own.up(-up))
    )


def _table_of(chord: Chord, ask: Ask) -> Standing:
    """Return the voicings of a chord as if it were on C."""
    if ask.own is None:
        return _table(kind(chord), ask.textures, ask.setting)
    return _table_with_tune(kind(chord), ask.textures, ask.setting, ask.own.up(-chord.root.pc))


@lru_cache(maxsize=1024)
def _table_with_tune(kind: Chord, textures: tuple[Texture, ...], setting: Setting, top: Top) -> Standing:
    found = [
        (hands, number) for number, texture in enumerate(textures) for hands in topped(kind, texture, setting, top)
    ]
    return _laid_out([hands for hands, _ in found], [number for _, number in found], kind, setting, top)


@lru_cache(maxsize=1024)
def _table(kind: Chord, textures: tuple[Texture, ...], setting: Setting) -> Standing:
    """Return the voicings of a kind of chord on C, with the terms that are the same on any root."""
    found = [
        (hands, number)
        for number, texture in enumerate(textures)
        for hands in sized(shapes(kind, texture.method, setting), texture, setting.hands, setting.pattern)
    ]
    return _laid_out([hands for hands, _ in found], [number for _, number in found], kind, setting)


def _laid_out(
    hands: Sequence[tuple[Keys, Keys]], textures: Sequence[int], chord: Chord, setting: Setting, own: Top | None = None
) -> Standing:
    """Return voicings as arrays, with the terms that do not depend on where they lie."""
    lefts = {keys: number for number, keys in enumerate(sorted({left for left, _ in hands}))}
    rights = {keys: number for number, keys in enumerate(sorted({right for _, right in hands}))}
    left = np.array([lefts[keys] for keys, _ in hands], dtype=np.int32)
    right = np.array([rights[keys] for _, keys in hands], dtype=np.int32)
    rows = _rows(tuple(lefts)), _rows(tuple(rights))
    terms = _shape_terms(rows, (left, right), chord, setting, own)
    return Standing(*rows, np.zeros_like(left), np.array(textures, dtype=np.int32), left, right, terms)


def _together(tables: Sequence[tuple[Standing, int]]) -> Standing:
    """Return the tables of several chords as one, each raised by so many semitones."""
    found: dict[str, list[Ints]] = {name: [] for name in Standing.__slots__}
    lefts = rights = 0
    for number, (table, up) in enumerate(tables):
        found["lefts"].append(_raised(table.lefts, up))
        found["rights"].append(_raised(table.rights, up))
        found["chords"].append(np.full_like(table.left, number))
        found["textures"].append(table.textures)
        found["left"].append(table.left + lefts)
        found["right"].append(table.right + rights)
        found["terms"].append(table.terms)
        lefts, rights = lefts + len(table.lefts), rights + len(table.rights)
    return Standing(**{name: np.concatenate(parts) for name, parts in found.items()})


def _rows(hands: Sequence[Keys]) -> Ints:
    rows = [(*keys, *(FREE,) * (5 - len(keys))) for keys in hands]
    return np.array(rows, dtype=np.int32).reshape(len(hands), 5)


def _raised(hands: Ints, up: int) -> Ints:
    raised: Ints = np.where(hands == FREE, FREE, hands + np.int32(up))
    return raised


def _fits(hands: Ints, within: Bounds) -> Ints:
    lowest, highest = hands[:, 0], _highest(hands)
    fits: Ints = (lowest == FREE) | ((within.lowest <= lowest) & (lowest <= within.bass) & (highest <= within.highest))
    return fits


def _highest(hands: Ints) -> Ints:
    highest: Ints = np.where(hands == FREE, 0, hands).max(axis=1)
    return highest


def _placed(found: Standing, chords: Sequence[Chord], ask: Ask) -> Standing:
    """Return voicings with the terms of where they lie, from mud to rub, before the others."""
    left, right = (
        _zone_terms(hands, zone)[of]
        for hands, zone, of in zip((found.lefts, found.rights), ask.zones, (found.left, found.right), strict=True)
    )
    low = _low_three(found.lefts[found.left], found.rights[found.right])
    mud = _muddiness(low) + _root_muddiness(low, chords, found.chords, ask.setting)
    tops = np.maximum(_highest(found.lefts)[found.left], _highest(found.rights)[found.right])
    tune = ask.own.held if ask.own else ask.tune
    rubs = _rubs(found.lefts, tune)[found.left] + _rubs(found.rights, tune)[found.right]
    if ask.own:
        # The tune does not rub against itself.
        rubs = np.maximum(0, rubs - _rubs(_rows([(ask.own.note,)]), tune)[0])
    above = [_line(tops, ask.top), _grains("over", _over(tops, ask.tune)), _grains("rub", rubs)]
    terms = np.concatenate([_grains("mud", mud)[:, None], left + right, np.stack(above, axis=1), found.terms], axis=1)
    return replace(found, terms=terms)


def _zone_terms(hands: Ints, zone: Zone) -> Ints:
    """Return what lying outside a zone and away from its middle costs each hand: n x 2."""
    held = hands != FREE
    count = held.sum(axis=1)
    outside = (np.maximum(0, np.maximum(zone.low - hands, hands - zone.high)) * held).sum(axis=1)
    middle = (hands * held).sum(axis=1) / np.maximum(1, count)
    away = np.where(count, np.abs(middle - zone.middle), 0.0)
    return np.stack([_grains("zone", outside), _grains("pull", away)], axis=1)


def _line(tops: Ints, top: Zone) -> Ints:
    """Return what top notes cost that lie where the line does not belong."""
    return _grains("line", np.maximum(0, np.maximum(top.low - tops, tops - top.high)))


DEEP = 12
"""Semitones above the tune from which no more is charged: hands cannot stay below a tune that lies so low, and are not
to be pressed into the mud for it (own choice)."""


HARSH = 3
"""Minor ninths that one semitone against the tune is as bad as (own choice)."""


def _over(tops: Ints, tune: tuple[int, ...]) -> Ints:
    """Return how far top notes lie from being below a tune's lowest held note: 1 on it, at most `DEEP`."""
    if not tune:
        return np.zeros_like(tops)
    over: Ints = np.clip(tops - np.int32(tune[0] - 1), 0, DEEP)
    return over


def _rubs(hands: Ints, tune: tuple[int, ...]) -> Ints:
    """Count the minor ninths between each hand and a tune's held notes, a semitone for `HARSH` of them."""
    if not tune:
        return np.zeros(len(hands), dtype=np.int32)
    apart = np.abs(hands[:, :, None] - np.array(tune, dtype=np.int32))
    rubs: Ints = (((apart == 1) * HARSH + (apart == 13)) * (hands != FREE)[:, :, None]).sum(axis=(1, 2))
    return rubs


def _low_three(lefts: Ints, rights: Ints) -> Ints:
    """Return the lowest three keys of voicings, filled up with `FREE`."""
    three: Ints = np.sort(np.concatenate([lefts, rights], axis=1), axis=1)[:, :3]
    return three


def _muddiness(low: Ints) -> Ints:
    """Return the semitones by which the lowest keys (p x 3) sit below their limits, as `ear.limits.muddiness`."""
    return _short(low[:, 0], low[:, 1]) + _short(low[:, 1], low[:, 2])


def _root_muddiness(low: Ints, chords: Sequence[Chord], of: Ints, setting: Setting) -> Ints:
    """Return what the bass beneath, where somebody else plays it, adds to that."""
    basses = [beneath(chord, setting) for chord in chords]
    if None in basses:
        return np.zeros(len(of), dtype=np.int32)
    root = low[:, 0] - (low[:, 0] - np.array(basses, dtype=np.int32)[of]) % 12
    return _short(root, low[:, 0])


_CLEAR = np.array([LOWEST_CLEAR.get(apart, 0) for apart in range(2 * FREE)], dtype=np.int32)


def _short(low: Ints, high: Ints) -> Ints:
    short: Ints = np.maximum(0, _CLEAR[high - low] - low) * ((high != FREE) & (high > low))
    return short


def _shape_terms(
    hands: tuple[Ints, Ints], pairs: tuple[Ints, Ints], chord: Chord, setting: Setting, top: Top | None
) -> Ints:
    """Return the terms that are the same wherever voicings lie, from doubling on."""
    (lefts, rights), (left, right) = hands, pairs
    own = [*(tone.pc for tone in chord.tones), chord.bass.pc, *([top.note % 12] if top else [])]
    # Third and seventh name the chord: one of them untold is twice as bad as a tension.
    wanted = [one.pc for one in (*(sounding_third(chord), seventh(chord)) * 2, *tension_sets(chord)[-1]) if one]
    untold = top is not None or (setting.hands == "left" and setting.owes_bass and not setting.pattern)
    said = (_counts(lefts)[left] + _counts(rights)[right]).astype(np.int32)
    notes, different = said.sum(axis=1), (said > 0).sum(axis=1)
    below, above, root = lefts[left], rights[right], chord.root.pc
    never = list({tone.pc for tone in chord.tones if tone.degree in NEVER_DOUBLED})
    plain = list({tone.pc for tone in chord.tones if tone.degree not in TENSIONS})
    fifth = plain_fifth(chord)
    nothing = np.zeros(len(left), dtype=np.int32)
    amounts = {
        "doubling": np.maximum(0, said[:, never] - 1).sum(axis=1),
        "ninth": _ninths(lefts, lefts, root)[left] + _ninths(rights, rights, root)[right] + _ninths(below, above, root),
        "gap": nothing if setting.pattern else _gaps(below, above),
        "omission": (said[:, fifth.pc] == 0) & (different < setting.full) if fifth else nothing,
        "bassist": nothing if setting.owes_bass else said[:, root] > 0,
        "thin": np.maximum(0, setting.full - notes),
        "plain": np.delete(said, plain, axis=1).sum(axis=1) == 0 if setting.colour else nothing,
        "unasked": nothing if setting.colour else (np.delete(said, own, axis=1) > 0).sum(axis=1),
        "untold": (said[:, wanted] == 0).sum(axis=1) if untold else nothing,
        "ending": _lowest(below, above) % 12 != chord.bass.pc if setting.last else nothing,
        "under": np.maximum(0, (below != FREE).sum(axis=1) - 1) if top else nothing,
    }
    return np.stack([_grains(term, amounts[term]) for term in TERMS[6:]], axis=1)


def _gaps(below: Ints, above: Ints) -> Ints:
    """Return the semitones beyond an octave between the hands."""
    apart: Ints = np.maximum(0, above[:, 0] - _highest(below) - 12) * (above[:, 0] != FREE) * (below[:, 0] != FREE)
    return apart


def _lowest(below: Ints, above: Ints) -> Ints:
    """Return the lowest key of each voicing."""
    lowest: Ints = np.where(below[:, 0] != FREE, below[:, 0], above[:, 0])
    return lowest


def _counts(hands: Ints) -> Ints:
    """Return how often each pitch class is in each hand: n x 12."""
    counts: Ints = ((hands[:, :, None] % 12 == np.arange(12)) & (hands != FREE)[:, :, None]).sum(axis=1)
    return counts


def _ninths(low: Ints, high: Ints, root: int) -> Ints:
    """Count the minor ninths from keys of `low` up to keys of `high`, row by row; a flat ninth over the root is the
    chord's own."""
    apart = (high[:, None, :] - low[:, :, None] == 13) & (high != FREE)[:, None, :]
    found: Ints = (apart & (low % 12 != root)[:, :, None]).sum(axis=(1, 2))
    return found


def _grains(term: str, amounts: Ints | Floats) -> Ints:
    whole: Ints = np.rint(WEIGHTS[term].value * GRAIN * amounts).astype(np.int32)
    return whole
