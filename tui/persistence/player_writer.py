"""The player's own file as it is written: anew, or with some settings changed and all else left as it stands."""

from dataclasses import fields

from engine.song.writing import pitch, quoted
from tui.persistence.player import SETTINGS, Player

FIRST_LINE = "# What holds for every set: your hands, ports and screen. Edit it as you like.\n"

PLAIN = tuple(
    field.name for field in fields(Player) if field.name not in ("reach", "register", "singers", "keys", "notes")
)
"""Settings of one value each, in the order in which they are written."""


def changed_player(text: str, before: Player, after: Player) -> str:
    """Return a player's file with the settings in which `after` differs from `before`; all else stays as it is
    written: comments, order, and what cannot be understood.

    Raises:
        ValueError: the text is not valid TOML.
    """
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    try:
        document = tomlkit.parse(text)
    except TOMLKitError as error:
        raise ValueError(str(error)) from None
    fresh = tomlkit.parse(write_player(after))
    for name in SETTINGS:
        if getattr(after, name) == getattr(before, name):
            continue
        if name in fresh:
            document[name] = fresh[name]
        elif name in document:
            del document[name]
    return tomlkit.dumps(document)


def write_player(player: Player) -> str:
    """Return the player's file; reading it gives the same player (notes aside)."""
    usual = Player()
    lines = [FIRST_LINE.rstrip()]
    if player.reach:
        lines += ["# millimetres from thumb to little finger, left and right", f"reach = [{_mm(player)}]"]
    if player.register:
        low, high = (pitch(key, "") for key in player.register)
        lines += ["# the lowest and highest key that may be played", f'register = ["{low}", "{high}"]']
    for name in PLAIN:
        value = getattr(player, name)
        if value != getattr(usual, name):
            number = name == "program" and value.isdecimal()
            lines.append(f"{name} = {value if number else _toml(value)}")
    if player.keys:
        lines += ["", "[keys]", *(f"{quoted(name)} = {quoted(keys)}" for name, keys in player.keys)]
    for singer in player.singers:
        lines += ["", "[[singers]]", f"name = {quoted(singer.name)}"]
        for name in ("lowest", "highest", "low_ease", "high_ease"):
            key = getattr(singer, name)
            lines += [f'{name} = "{pitch(key, "")}"'] if key is not None else []
    return "\n".join(lines) + "\n"


def _mm(player: Player) -> str:
    return ", ".join(f"{hand:g}" if float(f"{hand:g}") == hand else repr(hand) for hand in player.reach or ())


def _toml(value: object) -> str:
    return quoted(value) if isinstance(value, str) else str(value).lower()
