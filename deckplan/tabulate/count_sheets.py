"""How many posts a beam line stands on: the numbers that were tried, and which of them the plan takes."""

from __future__ import annotations

import math

from deckplan.plan.model import BeamLine
from deckplan.study import Study
from deckplan.tabulate.sheet import Scale, Sheet


def post_counts_sheet(study: Study) -> Sheet:
    """Tabulate the numbers of posts tried under every "auto" line, the dearest first, and why one is not taken.

    Prices are the program's invented ones, of beam, posts, their metal, holes and concrete: they compare, no more.
    """
    to = Scale(study.plan.units)
    columns = ("platform", "support", "posts", "beam", f"longest span [{to.short}]", "span",
               "cost [$, invented]", "taken", "why not")  # fmt: skip
    rows = []
    for (name, number), tried in study.post_counts.items():
        line = study.plan.platform(name).supports[number - 1]
        assert isinstance(line, BeamLine)
        for one in sorted(tried, key=lambda one: -one.cost):
            taken = one.posts == line.posts
            cost = None if math.isinf(one.cost) else round(one.cost)
            why = one.reason or ("" if taken else "costs more")
            rows.append((name, number, one.posts, one.build, to.length(one.span), to.tape(one.span), cost,
                         "yes" if taken else "", why))  # fmt: skip
    return Sheet("Posts tried", columns, tuple(rows))
