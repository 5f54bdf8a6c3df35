"""What comes of a way to stand two touching levels: a changed plan with its study, or why it cannot be."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.explore.changes import AnySupport
from deckplan.explore.touching import Side, Touch
from deckplan.plan.model import BeamLine, Hung, Plan
from deckplan.study import Study

OWN_LINE = 12.0
"""Where joists that no longer hang get a beam line of their own: in from the edge [in] (common practice)."""

AT_RIM = 1.5
"""Where that line lies in a level too low for a beam under its joists: in the rim's place [in] (common practice)."""


@dataclass(frozen=True, slots=True)
class Built:
    """The study of a plan changed to one way."""

    study: Study


@dataclass(frozen=True, slots=True)
class Refused:
    """Why a way cannot be, and what would make it possible."""

    reason: str
    remedy: str


Outcome = Built | Refused


def apart(study: Study, touch: Touch) -> Study:
    """Return the study of the plan in which neither level leans on the other; the same study where none does."""
    plan = _apart(study.asked, touch, low=False)
    if plan == study.asked:
        return study
    found = Study(plan)
    if any(post.platform == touch.lower and post.height < 0 for post in found.layout.posts):
        return Study(_apart(study.asked, touch, low=True))
    return found


def _apart(plan: Plan, touch: Touch, low: bool) -> Plan:
    """Give both levels posts of their own; low: a new beam line lies between the joists, not under them."""
    for name, other in ((touch.upper, touch.lower), (touch.lower, touch.upper)):
        platform = plan.platform(name)
        side = Side.of(platform, touch.edge)
        supports: list[AnySupport] = []
        for support in platform.supports:
            if isinstance(support, BeamLine):
                leans = [key for key in ("shares_posts_with", "stands_on") if getattr(support, key) == other]
                supports.append(support.model_copy(update=dict.fromkeys(leans, "")) if leans else support)
            elif isinstance(support, Hung) and support.on == other:
                offset = side.at + side.inward * (AT_RIM if low else OWN_LINE)
                supports.append(BeamLine(kind="beam", offset=offset, style="flush" if low else "drop"))
            else:
                supports.append(support)
        plan = plan.with_supports(name, supports)
    return plan
