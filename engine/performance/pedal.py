"""Foot switches: learnt by pressing, steady against trembling contacts and half-pressed pedals.

A switch speaks as a control change (64 sustain, 66, 67 or any other), as a note or as a program change. Many pedals are
wired the other way round: what the first press does tells which.
"""

import re
from dataclasses import dataclass, replace

DOWN, UP = 80, 40
"""Values at which a pedal going down counts, and below which it is up again. Source: own measurement on a continuous
pedal's stream: 5 presses counted as 5, where one threshold at 64 counted 15."""

LOCKOUT = 0.15
"""Seconds after a press in which another is a trembling contact. Source: own measurement, the same stream."""

REST = 0.05
"""Seconds that a switch must have been up before another press counts: contacts also tremble as they are let go.
Source: own choice, above the few milliseconds of a contact and below the quickest double press of a foot."""

CONTROL, NOTE, PROGRAM = "control", "note", "program"


@dataclass(frozen=True, slots=True)
class Switch:
    """What a foot switch sends: `kind` control, note or program; `number` of the controller, key or program; `channel`
    from 1; `inverted` when its resting value is the high one."""

    kind: str
    number: int
    channel: int
    inverted: bool = False


@dataclass(frozen=True, slots=True)
class Pressed:
    """A switch's state: `down` now, `since` the last press that counted, `up` since it was last let go (seconds, None
    before the first)."""

    down: bool = False
    since: float | None = None
    up: float | None = None


def feel(switch: Switch, pressed: Pressed, data: bytes, now: float) -> tuple[Pressed, bool]:
    """Return the state after one MIDI message, and whether it is a press that counts."""
    value = _value(switch, data)
    if value is None:
        return pressed, False
    if switch.kind == PROGRAM:
        return _press(replace(pressed, down=False), now)
    if switch.inverted:
        value = 127 - value
    if pressed.down:
        return (pressed if value > UP else replace(pressed, down=False, up=now)), False
    return _press(pressed, now) if value >= DOWN else (pressed, False)


def comes_from(switch: Switch, data: bytes) -> bool:
    """True when a message is this switch's, going down or up."""
    return _value(switch, data) is not None


def learn(messages: tuple[bytes, ...]) -> Switch | None:
    """Return the switch that sent these messages while it was pressed once and let go; None when nothing fits.

    The first message of the kind that comes first decides. A switch that starts low and ends high is inverted: pressing
    brought it down.
    """
    first = next((switch for data in messages if (switch := _source(data))), None)
    if first is None or first.kind != CONTROL:
        return first
    values = [value for data in messages if (value := _value(first, data)) is not None]
    return replace(first, inverted=values[0] < 64 and values[-1] >= 64)


def switch_words(switch: Switch) -> str:
    """Return a switch as a player's file keeps it: `control 64 channel 1`, with `inverted` after it if it is."""
    return f"{switch.kind} {switch.number} channel {switch.channel}{' inverted' if switch.inverted else ''}"


def read_switch(text: str) -> Switch:
    """Read what `switch_words` wrote.

    Raises:
        ValueError: other words.
    """
    found = re.fullmatch(r"(control|note|program) (\d{1,3}) channel (\d{1,2})( inverted)?", text.strip())
    if not found or int(found[2]) > 127 or not 1 <= int(found[3]) <= 16:
        raise ValueError(f"no switch {text!r}: write it as control 64 channel 1")
    return Switch(found[1], int(found[2]), int(found[3]), bool(found[4]))


def _press(pressed: Pressed, now: float) -> tuple[Pressed, bool]:
    rested = pressed.up is None or now - pressed.up >= REST
    counts = rested and (pressed.since is None or now - pressed.since >= LOCKOUT)
    return replace(pressed, down=True, since=now if counts else pressed.since), counts


def _source(data: bytes) -> Switch | None:
    """Return the switch that a message comes from; the release of a note or pedal that was down tells nothing."""
    kind, channel = data[0] & 0xF0, (data[0] & 0x0F) + 1
    if kind == 0xB0 and len(data) > 2 and data[1] < 120:  # from 120 on: channel mode messages
        return Switch(CONTROL, data[1], channel)
    if kind == 0x90 and len(data) > 2 and data[2] > 0:
        return Switch(NOTE, data[1], channel)
    return Switch(PROGRAM, data[1], channel) if kind == 0xC0 and len(data) > 1 else None


def _value(switch: Switch, data: bytes) -> int | None:
    """Return how far down the switch is (0 to 127) by a message; None when the message is another's."""
    if len(data) < 2 or data[1] != switch.number or (data[0] & 0x0F) + 1 != switch.channel or data[0] >= 0xF0:
        return None
    kind = data[0] & 0xF0
    if switch.kind == CONTROL:
        return data[2] if kind == 0xB0 and len(data) > 2 else None
    if switch.kind == NOTE:
        return {0x90: 127 if len(data) > 2 and data[2] > 0 else 0, 0x80: 0}.get(kind)
    return 127 if kind == 0xC0 else None
