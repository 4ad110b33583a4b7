"""How the states of a chord are asked for, for tests that look at them without a song."""

from engine.method_names import AUTO
from engine.planning.lineup import setting, top_zone, zones
from engine.planning.model import Request
from engine.planning.voicing_costs import Ask
from engine.voicing.textures import textures


def ask_of(request: Request, method: str = AUTO, texture: str = AUTO) -> Ask:
    """Return the ask of a request, in the textures of a method, without rolled tenths."""
    return Ask(setting(request), textures(texture, method), request.reach, zones(request), top_zone(request))
