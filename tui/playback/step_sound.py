"""Each chord sounded as the player steps, or a leader does, where that is wanted."""

from tui.planning.plans import Plans
from tui.playback.sound import Sound
from tui.session.session import Session


class StepSound:
    """Sounds the chord of each step while it is `on`; one per run."""

    def __init__(self, session: Session, plans: Plans, sound: Sound) -> None:
        self.session, self.plans, self.sound = session, plans, sound
        self.on = False

    def toggle(self) -> None:
        """Sound each chord as the player steps, or leave that to the player."""
        if not self.sound.port:
            self.session.say("no port chosen: m = sound", alarm=True)
            return
        self.on = not self.on
        if not self.on:
            self.sound.silence()
        self.session.say("each chord sounds as you step" if self.on else "the chords are yours to play")
        self.stepped()

    def stepped(self) -> None:
        """Sound the chord that has just come, if wanted."""
        if not self.on or not self.sound.port:
            return
        plan, clock = self.plans.current, self.sound.clock
        if plan is None or self.session.now.at_end:
            clock.silence()
        elif clock.process_id is None:
            self.session.tasks.start(self._when_there())
        else:
            clock.sound_step(plan.steps[self.session.now.step], self.sound.here())

    def leader_gone(self) -> None:
        """End the chord that sounds for a leader's step: the leader has stopped or is gone."""
        if self.on and self.sound.started:
            self.sound.clock.silence()

    async def _when_there(self) -> None:
        await self.sound.there()
        if self.sound.clock.process_id is not None:
            self.stepped()
