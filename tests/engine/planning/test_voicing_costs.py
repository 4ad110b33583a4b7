"""What voicings cost as they stand, against the same rules counted note by note."""

from dataclasses import replace
from itertools import combinations

import pytest

from engine.chord.symbol import read_symbol
from engine.ear.limits import muddiness
from engine.planning.model import Request
from engine.planning.voicing_costs import TERMS, Ask, beneath, standing, standing_as_told
from engine.planning.weights import grains
from engine.voicing.methods import kind, shapes, voicings
from engine.voicing.model import Voicing
from engine.voicing.textures import sized
from engine.voicing.tones import NEVER_DOUBLED, TENSIONS, seventh, tension_sets, third
from tests.engine.planning.asking import ask_of


def asked(**wishes: object) -> Ask:
    return ask_of(Request(**wishes))  # type: ignore[arg-type]


def _on_c(keys, chord) -> tuple[int, ...]:
    return tuple(key - chord.root.pc for key in keys)


def held(row) -> tuple[int, ...]:
    return tuple(key for key in row.tolist() if key < 128)


def counted(chord, left, right, ask) -> dict[str, int]:
    """Return the terms of a voicing, counted as one would on paper."""
    keys, pcs = left + right, [key % 12 for key in left + right]
    never = {tone.pc for tone in chord.tones if tone.degree in NEVER_DOUBLED}
    plain = {tone.pc for tone in chord.tones if tone.degree not in TENSIONS}
    fifth = chord.tone("5")
    own = {tone.pc for tone in chord.tones} | {chord.bass.pc}
    guides = {tone.pc for tone in (third(chord), seventh(chord)) if tone}
    tensions = {tone.pc for tone in tension_sets(chord)[-1]}
    untold = 2 * len(guides - set(pcs)) + len(tensions - set(pcs))
    sides = [(hand, zone) for hand, zone in zip((left, right), ask.zones, strict=True) if hand]
    rubs = [low for low, high in combinations(keys, 2) if high - low == 13 and low % 12 != chord.root.pc]
    return {
        "mud": grains("mud", muddiness(keys[:3], beneath(chord, ask.setting))),
        "zone": sum(grains("zone", sum(map(zone.outside, hand))) for hand, zone in sides),
        "pull": sum(grains("pull", abs(sum(hand) / len(hand) - zone.middle)) for hand, zone in sides),
        "line": grains("line", ask.top.outside(max(keys))),
        "over": grains("over", min(12, max(0, max(keys) - ask.tune[0] + 1)) if ask.tune else 0),
        "rub": grains("rub", sum({1: 3, 13: 1}.get(abs(key - note), 0) for key in keys for note in ask.tune)),
        "doubling": grains("doubling", sum(max(0, pcs.count(pc) - 1) for pc in never)),
        "ninth": grains("ninth", len(rubs)),
        "gap": grains("gap", max(0, right[0] - left[-1] - 12)) if left and right else 0,
        "omission": grains("omission", bool(fifth and fifth.pc not in pcs and len(set(pcs)) < ask.setting.full)),
        "bassist": grains("bassist", not ask.setting.owes_bass and chord.root.pc in pcs),
        "thin": grains("thin", max(0, ask.setting.full - len(keys))),
        "plain": grains("plain", ask.setting.colour and set(pcs) <= plain),
        "unasked": grains("unasked", 0 if ask.setting.colour else len(set(pcs) - own)),
        "untold": grains("untold", untold if ask.setting.hands == "left" else 0),
        "ending": 0,
        "under": 0,
    }


@pytest.mark.parametrize("wishes", [{}, {"bass": True}, {"colour": True}, {"hands": "left"}, {"sound": "pad"}])
@pytest.mark.parametrize("tune", [(), (60, 65)])
def test_every_term_is_what_one_counts_on_paper(wishes, tune) -> None:
    chords = [read_symbol(symbol) for symbol in ("Dm9", "G7b9", "Cmaj7/E", "F#m7b5", "Bb13", "C")]
    ask = replace(asked(**wishes), tune=tune)
    found = standing(chords, ask)
    for number in range(0, len(found.left), 11):
        chord = chords[found.chords[number]]
        left, right = held(found.lefts[found.left[number]]), held(found.rights[found.right[number]])
        assert dict(zip(TERMS, found.terms[number].tolist(), strict=True)) == counted(chord, left, right, ask)


@pytest.mark.parametrize("wishes", [{}, {"bass": True}, {"floor": 48, "ceiling": 72}, {"hands": "right"}])
def test_all_voicings_of_the_methods_are_weighed_that_lie_in_the_registers_and_no_others(wishes) -> None:
    ask = asked(**wishes)
    for chord in (read_symbol(symbol) for symbol in ("Dm9", "G7b9", "C/E", "Ab")):
        found = standing([chord], ask)
        weighed = {
            (ask.textures[texture], held(found.lefts[left]), held(found.rights[right]))
            for texture, left, right in zip(found.textures, found.left, found.right, strict=True)
        }
        offered = {
            (texture, one.left, one.right)
            for texture in ask.textures
            for shape in [set(sized(shapes(kind(chord), texture.method, ask.setting), texture, ask.setting.hands))]
            for one in voicings(chord, texture.method, ask.setting)
            if (_on_c(one.left, chord), _on_c(one.right, chord)) in shape
        }
        assert weighed == offered


def test_beside_a_bass_player_mud_is_heard_over_the_bass() -> None:
    # D3 E3 Bb3 with the C beneath as the lowest: each pair of neighbours counts.
    chord, ask = read_symbol("C9"), asked(bass=True)
    assert beneath(chord, ask.setting) == 0
    assert beneath(chord, asked().setting) is None
    low = standing_as_told(chord, [Voicing((50,), (52, 58))], [0], ask).terms[0, 0]
    assert low == grains("mud", muddiness((48, 50, 52, 58)))


def test_a_voicing_that_no_method_offers_is_weighed_by_the_same_rules() -> None:
    chord, ask = read_symbol("C"), asked()
    wish = Voicing((36, 40, 43), (83, 84, 97))
    (terms,) = standing_as_told(chord, [wish], [0], ask).terms.tolist()
    assert dict(zip(TERMS, terms, strict=True)) == counted(chord, wish.left, wish.right, ask)
    assert terms[TERMS.index("mud")] > 0
    assert terms[TERMS.index("ninth")] == 0, "a flat ninth over the root is the chord's own"
    assert terms[TERMS.index("gap")] == grains("gap", 83 - 43 - 12)


def test_chords_weighed_together_stand_as_each_does_alone() -> None:
    chords, ask = [read_symbol(symbol) for symbol in ("Dm7", "G7", "Ab7")], asked()
    together = standing(chords, ask)
    for number, chord in enumerate(chords):
        assert together.terms[together.chords == number].tolist() == standing([chord], ask).terms.tolist()
