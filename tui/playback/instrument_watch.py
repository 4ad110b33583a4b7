"""Whether the instrument that is played has come, gone or come back, and whether the built-in sound is mute."""

from dataclasses import dataclass

from tui.audio import BUILT_IN


@dataclass(frozen=True, slots=True)
class Seen:
    """What has become of the instrument: it `came` (the first time or again), it is `back` after it had gone, it is
    `lost`."""

    came: bool = False
    back: bool = False
    lost: bool = False


class InstrumentWatch:
    """Remembers whether the instrument was there when it was last looked at; one per run."""

    def __init__(self) -> None:
        self._there = False
        self._gone = False
        self._mute_said = False

    def seen(self, port: str, ready: bool) -> Seen:
        """Return what has changed, now that the port chosen ("" for none) is `ready` or not."""
        seen = Seen(
            came=ready and not self._there,
            back=ready and not self._there and self._gone,
            lost=self._there and not ready and port != "",
        )
        self._gone = port != "" and not ready and (self._there or self._gone)
        self._there = ready
        return seen

    def seems_mute(self, port: str, words: str) -> bool:
        """Tell, once, that by the words of the clock's process the built-in sound cannot be had; all else goes on."""
        from tui.midi.port_words import OPENING

        mute = port == BUILT_IN and words.startswith(f"{BUILT_IN}: ") and OPENING not in words
        new = mute and not self._mute_said
        self._mute_said = self._mute_said or mute
        return new
