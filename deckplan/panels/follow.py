"""What follows the session only while it is looked at: a panel behind another tab is not made anew on every change."""

from __future__ import annotations

from collections.abc import Callable

from deckplan.panels.widgets import Bare


class Follower(Bare):
    """Base of the panels. `_look_now` makes the panel anew; `shown` says whether anybody sees it.

    ::

        news --> shown? --yes--> _look_now
                   |
                   no --> remembered; made up for when the panel comes into sight
    """

    _shown = True
    _behind = False
    _ends: tuple[Callable[[], None], ...] = ()

    def _look_now(self) -> None:
        """Make the panel anew from the session."""
        raise NotImplementedError

    def _news(self, *_: object) -> None:
        """Hear that something has changed, whatever the teller says of it."""
        if self._shown:
            self._look_now()
        else:
            self._behind = True

    def freshen(self) -> None:
        """Catch up with what changed while nobody looked."""
        if self._behind:
            self._behind = False
            self._look_now()

    @property
    def shown(self) -> bool:
        """Whether the panel is seen; one that comes into sight catches up first."""
        return self._shown

    @shown.setter
    def shown(self, seen: bool) -> None:
        self._shown = seen
        if seen:
            self.freshen()

    def fallback(self) -> str:
        """Return what is shown where no kernel runs, as the plan is now."""
        self.freshen()
        return super().fallback()

    def close(self) -> None:
        """Follow no more, and close the widget."""
        ends, self._ends = self._ends, ()
        for end in ends:
            end()
        super().close()
