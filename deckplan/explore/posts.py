"""How many posts a beam line stands on at least cost: more posts mean more holes, fewer mean more beam."""

from __future__ import annotations

from dataclasses import dataclass

from deckplan.buy.prices import Prices, read_prices
from deckplan.buy.takeoff import take_off_frame
from deckplan.layout.model import Kind
from deckplan.plan.model import BeamLine, Plan
from deckplan.sizing.posts import with_counts
from deckplan.study import Study
from deckplan.verdict import Verdict

CLOSEST = 36.0
"""Posts are not tried closer together than this on the average [in]. Source: common practice."""


FRAME_GROUPS = ("lumber", "connectors", "concrete")
"""What the number of posts changes; boards and screws cost the same whatever stands below."""


@dataclass(frozen=True, slots=True)
class PostChoice:
    """One number of posts under a beam line: the beam it takes, longest span [in], cost of the deck's frame [dollars].

    passes: no check of the line's beams, posts and footings fails; reason: the first that does.
    """

    posts: int
    build: str
    span: float
    cost: float
    passes: bool
    reason: str


def choose_posts(
    plan: Plan, platform: str, support: int, prices: Prices | None = None
) -> tuple[PostChoice, ...]:
    """Try every number of posts under a beam line and return what passes by cost, then what fails.

    platform: its name; support: place of the beam line among the platform's supports, counted from 1; prices: the
    invented list of the program unless another is given. The beam is the smallest that passes, where its build is
    "auto"; the footings follow. Raises KeyError, IndexError or TypeError where there is no such beam line.
    """
    line = plan.platform(platform).supports[support - 1]
    if not isinstance(line, BeamLine):
        raise TypeError(f'support {support} of "{platform}" is no beam line')
    asked = prices or read_prices()
    length = max(
        (m.length for m in Study(plan).layout.of(platform, Kind.BEAM) if m.support == support - 1),
        default=0.0,
    )
    most = max(2, int(length // CLOSEST) + 1)
    tried = [_try(plan, platform, support, count, asked) for count in range(2, most + 1)]
    return tuple(sorted(tried, key=lambda choice: (not choice.passes, choice.cost, choice.posts)))


def _try(plan: Plan, platform: str, support: int, count: int, prices: Prices) -> PostChoice:
    """Study the plan with one number of posts under the line."""
    index = [each.name for each in plan.platforms].index(platform)
    study = Study(with_counts(plan, {(index, support - 1): count}))
    beams = [m for m in study.layout.of(platform, Kind.BEAM) if m.support == support - 1]
    marks = {m.mark for m in beams} | {b.on for m in beams for b in m.bearings}
    marks |= {post.footing for post in study.layout.posts if post.mark in marks}
    failing = [c for mark in sorted(marks) for c in study.checks_of(mark) if c.verdict is Verdict.FAIL]
    spans = [s for m in beams if (d := study.loads.demands.get(m.mark)) for s in d.analysis.spans]
    settled = study.plan.platform(platform).supports[support - 1]
    assert isinstance(settled, BeamLine)
    bought = take_off_frame(study)
    cost = prices.total(item for item in bought if item.group in FRAME_GROUPS)
    cost += prices.of("hole") * len(study.layout.pads)
    reason = failing[0].reason if failing else ""
    return PostChoice(count, settled.build, max(spans, default=0.0), cost, not failing, reason)
