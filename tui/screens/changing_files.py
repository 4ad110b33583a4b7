"""A song's own file changed from a screen: begun beside the keys, and said when it is done."""

from collections.abc import Callable

from engine.errors import EngineError
from engine.song.bar_places import Moved
from tui.screens.asking import Asking
from tui.session.session import in_a_line

Change = Callable[[str], str]
"""Makes another text of a file's."""


class ChangingFiles(Asking):
    """What a screen needs to change the file of the open song."""

    def change_file(self, change: Change, words: str, moved: Moved | None = None) -> None:
        """Change the open song's file; `words` say what, `moved` where its bars go."""
        place = self.session.now.here
        if place is not None:
            self.run_worker(self._change_file(place.file, change, words, moved), exclusive=True, group="edit")

    async def _change_file(self, file: str, change: Change, words: str, moved: Moved | None) -> None:
        try:
            await self.context.files().songs.change(file, change, words, moved)
        except EngineError as fault:
            self.session.say(in_a_line(fault), alarm=True)
        else:
            self.session.say(f"{words}; u takes it back")
            self.file_changed(words)

    def file_changed(self, words: str) -> None:
        """Do what follows a change that was made."""
