"""Where the ports stand, in one line for the player."""

from tui.midi.open_ports import SENDING
from tui.midi.port_list import PortsSeen
from tui.midi.ports import VIRTUAL, without_address

ROLES = ("out", "beside", "click", "thru", "in", "lead", "follow")
"""What a port is for: the instrument, a second one that sounds the same, one for the click alone, one for what the
player plays, the player's keyboard and pedal, the copy we lead, the copy we follow."""

OPENING = "it is being opened"
"""Of an output that is no MIDI port, before it is there."""

VERBS = {
    "out": "plays through", "beside": "and through", "click": "clicks on", "thru": "passes on to",
    "in": "listens to", "lead": "leads on", "follow": "follows",
}  # fmt: skip


def status_words(
    wanted: dict[str, str],
    opened: dict[str, str],
    why: dict[str, str],
    ports: PortsSeen | None,
    sinks: frozenset[str] = frozenset(),
) -> str:
    """Return what sounds through what, or why nothing does: role -> port that is wanted, port that is open, refusal.

    What is wrong with MIDI does not touch `sinks`, the outputs that are no MIDI ports.
    """
    if not wanted:
        return "no MIDI port chosen"
    words = [
        f"{VERBS[role]} {short(opened[role])}"
        if role in opened
        else _no_sink(wanted[role], why.get(role))
        if wanted[role] in sinks
        else _missing(wanted[role], why.get(role), ports)
        for role in ROLES
        if role in wanted
    ]
    return "; ".join(dict.fromkeys(words))


def names_for(ports: PortsSeen | None, role: str) -> tuple[str, ...]:
    """Return the ports that a role may have, of those seen."""
    if ports is None:
        return ()
    return ports.outputs if role in SENDING else ports.inputs


def short(name: str) -> str:
    """Return a port's name as on the device: without the system's prefix and address."""
    device, _, port = without_address(name).partition(":")
    return port if port.startswith(device) or device == VIRTUAL[:-1] else without_address(name)


def _no_sink(name: str, why: str | None) -> str:
    return f"{name}: {why or OPENING}"


def _missing(name: str, why: str | None, ports: PortsSeen | None) -> str:
    if ports is not None and ports.trouble:
        return ports.trouble.partition(". ")[0].removesuffix(".")
    return f"{name}: {why or 'not connected, taken up when it comes'}"
