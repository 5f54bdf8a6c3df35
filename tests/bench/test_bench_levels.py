"""How long the elevation solver takes: 6 platforms under 100 ms, 12 under a second, at the median.

Taken in processor time, so that busy neighbours on the same machine do not count.
"""

import random
import statistics
import time

import pytest

from deckplan.levels.best_walk import find_best
from tests.test_levels_solver import random_walk

pytestmark = pytest.mark.bench


@pytest.mark.parametrize(("platforms", "limit"), [(3, 0.1), (6, 0.1), (12, 1.0)])
def test_the_solver_keeps_pace(platforms: int, limit: float) -> None:
    rng = random.Random(platforms)
    find_best(random_walk(rng, 2, 6.0, 0, 1))  # the first call loads the library
    times = []
    for _ in range(21):
        walk = random_walk(rng, platforms, 8.0, 2, 2)
        start = time.process_time()
        best = find_best(walk)
        times.append(time.process_time() - start)
        assert best is None or best.proven
    print(
        f"{platforms} platforms: median {1e3 * statistics.median(times):.0f} ms, worst {1e3 * max(times):.0f} ms"
    )
    assert statistics.median(times) < limit
