"""What other programs do to the open set's files: noticed, and taken up when the player says so."""

from dataclasses import replace
from typing import TYPE_CHECKING

from engine.song.model import SetList
from tui.persistence.set_file import check_readable
from tui.session import rehearsal as stand
from tui.session.rehearsal import NotThere, Rehearsal

if TYPE_CHECKING:
    from tui.persistence.merging import Choose, Clash, Value
    from tui.session.desk import Desk


class OtherPrograms:
    """Compares the files with what the desk knows."""

    def __init__(self, desk: "Desk") -> None:
        self.desk = desk

    def look(self) -> None:
        """Notice that another program changed the set's file or a song's; the player decides when to take it up.

        What could not be saved is tried again: the disk may have room by now.
        """
        if "saving" in self.desk.trouble:
            self.desk.keeping.save_soon()
        if "changed" in self.desk.trouble:
            return
        names = self.desk.file.changed_outside()
        if names:
            words = (
                "was changed elsewhere: w takes it up" if len(names) == 1 else "were changed elsewhere: w takes them up"
            )
            self.desk.trouble["changed"] = f"{' and '.join(names[:2])}{', ...' * (len(names) > 2)} {words}"
            self.desk.tell()

    async def at_stake(self) -> "tuple[Clash, ...]":
        """Return what was decided here and would be lost by taking the files as they stand.

        Raises:
            EngineError: the set, or a song that is open, cannot be read any more.
        """
        from tui.persistence.merging import differences
        from tui.persistence.session_merge import taken_up

        async with self.desk.files_turn:
            fresh, _ = self._fresh()
            file = self.desk.file
            ours, _ = taken_up(self.desk.now, file.base, fresh, lambda clash: True, file.decided)
            return differences(fresh.songs, ours.songs)

    async def merge(self, choose: "Choose") -> "tuple[Clash, ...]":
        """Take up what stands in the files now and keep what was decided here; or return what is still to be chosen.

        Raises:
            EngineError: the set, or a song that is open, cannot be read any more; what is open stays.
        """
        from tui.persistence.session_merge import taken_up

        async with self.desk.files_turn:
            fresh, text = self._fresh()
            given_up: set[Value] = set()

            def chosen(clash: "Clash") -> bool | None:
                choice = choose(clash)
                if choice is False:
                    given_up.add(clash.value)
                return choice

            file = self.desk.file
            now, clashes = taken_up(self.desk.now, file.base, fresh, chosen, file.decided)
            if not clashes:
                file.decided -= given_up
                self._opened(fresh, text, now)
            return clashes

    async def reload(self) -> None:
        """Take what stands in the files now, and nothing else; undo brings the old songs back.

        Raises:
            EngineError: the set, or a song that is open, cannot be read any more; what is open stays.
        """
        async with self.desk.files_turn:
            fresh, text = self._fresh()
            here = self.desk.now.here
            same = next((i for i, place in enumerate(fresh.songs) if here and place.file == here.file), None)
            kept = stand.remember(self.desk.now, "reload")
            self.desk.file.decided = frozenset()
            step = self.desk.now.step if same is not None else 0
            self._opened(fresh, text, replace(kept, set_list=fresh, song=same or 0, step=step, loop=None))

    def _fresh(self) -> tuple[SetList, str]:
        """Return the set as its file has it now, and the file's text."""
        if self.desk.path is None:
            raise NotThere("this set has no file")
        from tui.persistence import store

        text = store.read_text(self.desk.path)
        fresh = stand.opened(store.open_set(self.desk.path), self.desk.unfold).set_list
        if store.read_text(self.desk.path) != text:
            raise NotThere(f"{self.desk.path.name} is being written: once more")
        check_readable(self.desk.now.set_list, fresh)
        return fresh, text

    def _opened(self, fresh: SetList, text: str, now: Rehearsal) -> None:
        self.desk.file.taken_up(fresh, text)
        self.desk.file.stamp()
        for subject in ("changed", "saving", "bar"):
            self.desk.trouble.pop(subject, None)
        before = self.desk.now
        now = stand.unfolded(now, self.desk.unfold, now.song)
        same = stand.name_here(before) == stand.name_here(now)
        self.desk.become(stand.found_again(now, before.steps) if same else stand.within(now))
