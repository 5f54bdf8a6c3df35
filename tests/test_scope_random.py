"""Random plans through scope, neighbours and the load path: nothing breaks, every finding has its reason."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings

from deckplan.checks.neighbours import check_neighbours
from deckplan.checks.scope import check_scope
from deckplan.checks.scope_notes import scope_notes
from deckplan.plan.model import Plan
from deckplan.study import Study
from deckplan.verdict import Verdict
from tests.test_random_plans import plans


def holds(plan: Plan) -> None:
    study = Study(plan)
    context = (study.plan, study.profile, study.levels, study.layout)
    found = check_scope(*context, study.loads, study.footings) + check_neighbours(
        *context, study.loads, study.footings
    )
    assert all(check.reason for check in found if check.verdict is not Verdict.PASS)
    # a level over two others is held to each: the steps of the one are not those of the other
    assert len({(check.mark, check.rule, check.reason, check.steps) for check in found}) == len(found)
    assert scope_notes(*context)
    path, loads = study.load_path, study.loads
    # whether a layout gives all of its surface to joists is the layout's own test; from the joists down nothing is lost
    for node in path.balance():
        assert node.mark in path.names or node.off <= 1e-3 * max(1.0, node.arriving.full), node
    to_ground = [loads.posts[post.mark] for post in study.layout.posts if post.footing]
    down = sum(force.full for force in (*to_ground, *loads.ledgers.values(), loads.ground, loads.lost))
    assert sum(force.full for force in path.arrived().values()) == pytest.approx(down, rel=1e-3)
    for surface in path.names:
        goes = path.where_does_it_go(surface)
        assert sum(g.force for g in goes) == pytest.approx(
            sum(path.graph.edges[edge]["force"].full for edge in path.graph.out_edges(surface)),
            rel=1e-3,
            abs=0.1,
        )
    for footing in (f for f in study.footings if f.post):
        stands = path.what_stands_on(footing.mark)
        assert sum(s.full for s in stands) == pytest.approx(footing.load, rel=1e-3, abs=0.1)


@settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))
@given(plans())
def test_random_plans_hold(plan: Plan) -> None:
    holds(plan)


@pytest.mark.slow
@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(plans())
def test_many_random_plans_hold(plan: Plan) -> None:
    holds(plan)
