"""Where the hands may play and where they sound best, by who else is on the stand.

Source: common practice. With a bass player nothing of ours sounds below C3 and comping lies about D3 to C#5; alone
the left hand has the low register; a shell's right hand lies about between F3 and G5.
"""

from dataclasses import dataclass, replace

from engine.planning.model import HeldTune, Request, SectionWish
from engine.planning.own_tune.wanted import is_held, own_tune
from engine.song.model import Section, SectionVoicing, SetList, Song
from engine.song.tune import tune_over, whose_tune
from engine.song.unfolding import unfold
from engine.voicing.model import Register, Setting

FLOOR_WITH_BASS = 48
"""C3: lowest key beside a bass player. Source: common practice ("left hand from about C3")."""

FULL = {"piano": 4, "pad": 3, "organ": 4}
"""How many notes fill a chord. Source: common practice (four say a seventh chord, a pad is thinner: three in all)."""


@dataclass(frozen=True, slots=True)
class Zone:
    """Where a hand sounds best: MIDI numbers, both ends included."""

    low: int
    high: int

    def outside(self, key: int) -> int:
        """Return how many semitones a key lies outside."""
        return max(0, self.low - key, key - self.high)

    @property
    def middle(self) -> float:
        """The key half way, a half where it lies between two."""
        return (self.low + self.high) / 2


TOP, TOP_LEFT = Zone(61, 74), Zone(55, 65)
"""Where the top note of both hands, and of a left hand alone, lies well: C#4 to D5, G3 to F4 (own choice after the rule
of thumb, which has a right thumb between C4 and C5)."""


BASSES, PATTERNED = (33, 50), (28, 67)
"""Where a left hand's pattern begins, A1 to D3, and where it may go, from E1 on, the lowest note of a double bass.
Source: common practice; A1 and D3 own choice."""


def setting(
    request: Request, to_minor: bool = False, last: bool = False, tune: tuple[int, ...] = (), pattern: bool = False
) -> Setting:
    """Return what the voicing methods are told about this line-up; `last`: the song ends on the chord;
    `tune`: what somebody else holds over it, ascending; `pattern`: the left hand plays one."""
    if pattern:
        register = Register(bass=BASSES, left=PATTERNED, right=(50, 84))
    elif request.bass:
        floor = FLOOR_WITH_BASS
        right = floor if request.hands == "right" else 53
        register = Register(bass=(floor, floor + 13), left=(floor, 69), right=(right, 84))
    elif request.hands == "left":
        # A left hand alone has root and thirds together: no third below C3, so its roots lie higher.
        register = Register(bass=(43, 62), left=(43, 69), right=(50, 84))
    else:
        register = Register(bass=(33, 53), left=(33, 67), right=(50, 84))
    return Setting(
        _within(_below(register, tune), request.floor, request.ceiling),
        owes_bass=not request.bass,
        hands=request.hands,
        to_minor=to_minor,
        # Two players who both add tensions clash. Source: common practice.
        colour=request.colour and not request.guitar,
        # The pattern's other tones fill the chord too, and alone they are all there is.
        full=1 if pattern and request.hands == "left" else FULL[request.sound] - pattern,
        last=last,
        pattern=pattern,
    )


def zones(request: Request, pattern: bool = False) -> tuple[Zone, Zone]:
    """Return the (left, right) zones of a line-up; behind a singer the right hand stays below the top of the tune;
    `pattern`: the left hand plays one."""
    left, right = (Zone(FLOOR_WITH_BASS, 64), Zone(55, 76)) if request.bass else (Zone(36, 60), Zone(52, 77))
    if request.hands == "left":
        left = Zone(max(43, left.low), 64)
    left = Zone(33, 47) if pattern else left
    if request.melody is not None:
        right = Zone(right.low, max(right.low + 12, min(right.high, request.melody[1])))
    return left, right


def top_zone(request: Request, pattern: bool = False) -> Zone:
    """Return where the top note lies well, so that the line comes back to its own region: `TOP` or `TOP_LEFT`; with a
    singer not above the tune's highest note, a fifth wide at least. A left hand's `pattern` alone has no such note."""
    if request.hands == "left" and pattern:
        return Zone(0, 127)
    if request.hands == "left":
        return TOP_LEFT
    if request.melody is None:
        return TOP
    high = max(TOP.low - 5, min(TOP.high, request.melody[1]))
    return Zone(min(TOP.low, high - 7), high)


def _below(register: Register, tune: tuple[int, ...]) -> Register:
    """Return a register whose right hand has an octave and a step below a low tune, not below the left hand's own."""
    if not tune:
        return register
    low, high = register.right
    return replace(register, right=(min(low, max(register.left[0] + 7, tune[0] - 14)), high))


def beneath_tune(zone: Zone, tune: tuple[int, ...], least: int) -> Zone:
    """Return a zone cut off below the lowest note that somebody else's tune holds; `least` semitones of it remain."""
    high = min(zone.high, tune[0] - 1) if tune else zone.high
    return Zone(min(zone.low, high - least), high) if high < zone.high else zone


def with_tune(zone: Zone, note: int) -> Zone:
    """Return a right hand's zone with room for a note of its own tune on top, and for a chord an octave below it."""
    return Zone(min(zone.low, note - 12), max(zone.high, note))


def reaching(told: Setting, note: int, ceiling: int | None) -> Setting:
    """Return a setting whose right hand goes up to a note of its own tune, as far as the keyboard does."""
    low, high = told.register.right
    high = max(high, min(note, 127 if ceiling is None else ceiling))
    return replace(told, register=replace(told.register, right=(low, high)))


def _within(register: Register, floor: int | None, ceiling: int | None) -> Register:
    """Return a register that keeps to the lowest and the highest key that the player allows."""
    low, high = floor if floor is not None else 0, ceiling if ceiling is not None else 127
    ranges = [(max(low, one), min(high, two)) for one, two in (register.bass, register.left, register.right)]
    # A floor above the usual basses moves them up with it.
    if ranges[0][1] - ranges[0][0] < 12:
        ranges[0] = (ranges[0][0], min(high, ranges[0][0] + 12))
    return Register(*ranges)


def _wish(section: Section) -> SectionWish:
    own = section.voicing
    words = {name: getattr(own, name) or None for name in ("method", "texture", "hands", "sound")}
    return SectionWish(section.name, **words, bass=own.bass)


def _bass(song: Song, set_list: SetList) -> bool:
    return set_list.bass if song.bass == "set" else song.bass == "yes"


def held_tune(song: Song) -> tuple[HeldTune, ...]:
    """Return what somebody else's tune holds over each written chord at all its passes together."""
    theirs = {part.name for part in song.sections if part.tune and whose_tune(song, part) == "theirs"}
    steps = [step for step in unfold(song) if step.section in theirs] if theirs else []
    held: dict[tuple[str, int, int], set[int]] = {}
    for step, notes in zip(steps, tune_over(song, steps), strict=True):
        held.setdefault(step.written, set()).update(note.note for note in notes if is_held(note, step.beats))
    return tuple(HeldTune(written, tuple(sorted(notes))) for written, notes in held.items() if notes)


def request_for(
    song: Song,
    set_list: SetList,
    reach: tuple[float, float],
    hands: str = "both",
    bass: bool | None = None,
    register: tuple[int, int] | None = None,
) -> Request:
    """Return how a song of a set is to be planned tonight; `reach` in millimetres, `bass` over what song and set say,
    `register` the keyboard's outer keys."""
    return Request(
        method=song.method,
        bass=_bass(song, set_list) if bass is None else bass,
        hands=hands if hands != "both" else song.hands,
        reach=reach,
        sound=song.sound,
        texture=song.texture,
        sections=tuple(_wish(part) for part in song.sections if part.voicing != SectionVoicing()),
        pins=song.pins,
        colour=song.colour == "on",
        guitar=set_list.guitar,
        melody=song.melody,
        tune=held_tune(song),
        own_tune=own_tune(song),
        floor=register and register[0],
        ceiling=register and register[1],
    )
