"""Small changes of a plan's supports, each with the words for it."""

from __future__ import annotations

from deckplan.plan.model import BeamLine, Hung, Ledger, Plan, Platform

AnySupport = Ledger | BeamLine | Hung


def with_line(plan: Plan, name: str, index: int, **changes: object) -> Plan:
    """Return the plan with some keys of one beam line changed; index: its place among the supports, from nought.

    A line that does change is left to the sizing, unless the build is given: what was right for it before need not be.
    """
    supports = list(plan.platform(name).supports)
    line = supports[index]
    if any(getattr(line, key) != value for key, value in changes.items()):
        supports[index] = line.model_copy(update={"build": "auto", **changes})
    return plan.with_supports(name, supports)


def lines_of(platform: Platform) -> list[tuple[int, BeamLine]]:
    """Return a platform's beam lines square to its joists, with their places among the supports.

    Lines at an angle are drawn for a place of their own: nothing moves them.
    """
    return [
        (at, one)
        for at, one in enumerate(platform.supports)
        if isinstance(one, BeamLine) and one.offset is not None
    ]


def nearest_line(platform: Platform, at: float) -> tuple[int, BeamLine] | None:
    """Return the beam line nearest to a place along the joists [in], None where the platform has none."""
    return min(lines_of(platform), key=lambda item: abs(item[1].set_at - at), default=None)
