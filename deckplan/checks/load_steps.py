"""The loads behind a sum, written out: spans, line loads and point loads, so that it can be redone by hand."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from deckplan.engineering.influence import PointLoad
from deckplan.loads.model import Demand
from deckplan.verdict import Check, Source, Step

STATICS = Source("statics", "what rests on the member, live load (and snow) only where it hurts", "derived")

FROM_STATICS = (
    "bending in the span",
    "bending over a support",
    "shear",
    "bearing",
    "deflection",
    "deflection under all loads, as the tables",
    "deflection of an overhang under live load",
)
"""Rules whose demand comes out of the member's statics."""


def with_loads(checks: Iterable[Check], demand: Demand, behind: tuple[Step, ...] = ()) -> list[Check]:
    """Put the loads in front of the steps of every check that rests on a member's statics, and more steps behind."""
    lead = load_steps(demand)
    return [
        replace(check, steps=(*lead, *check.steps, *behind)) if check.rule in FROM_STATICS else check
        for check in checks
    ]


def load_steps(demand: Demand) -> tuple[Step, ...]:
    """Return a member's supports and loads as steps: lengths [in], line loads [lb/in], point loads [lb]."""
    analysis = demand.analysis
    before, after = analysis.overhangs
    spans = ", ".join(f"{span:.6g}" for span in analysis.spans)
    shape = f"overhang {before:.4g}; spans {spans}; overhang {after:.4g}"
    steps = [_line("L", "length between its ends: overhang, spans, overhang", shape, analysis.length, "in")]
    snows = any(load[-1] for load in (*demand.uniform, *demand.points))
    kinds = "dead + live + snow" if snows else "dead + live"
    if demand.uniform:
        pieces = [f"{start:.5g} to {end:.5g}: {_sum(parts, snows)}" for start, end, *parts in demand.uniform]
        total = sum((end - start) * sum(parts) for start, end, *parts in demand.uniform)
        words = f"line loads, from .. to [in]: {kinds} [lb/in], all on"
        steps.append(_line("w", words, "; ".join(pieces), total, "lb"))
    presses: list[PointLoad] = []
    lifts: list[PointLoad] = []
    for load in sorted(demand.points):
        (lifts if min(load[2:]) < 0 else presses).append(load)
    for symbol, words, loads in (
        ("P", f"point loads, at [in]: {kinds} [lb], all on", presses),
        ("U", f"instead of those, where live load lifts what bears here: {kinds} [lb]", lifts),
    ):
        if loads:
            pieces = [f"{at:.5g}: {_sum(parts, snows)}" for at, *parts in loads]
            total = sum(sum(parts) for _, *parts in loads)
            steps.append(_line(symbol, words, "; ".join(pieces), total, "lb"))
    most = ", ".join(f"{r.largest:.5g} at {r.at:.5g}" for r in analysis.reactions)
    words = "largest reactions by the three-moment equation, D + L where it hurts [lb at in]"
    steps.append(_line("R", words, most, max(r.largest for r in analysis.reactions), "lb"))
    return tuple(steps)


def _sum(parts: Sequence[float], snows: bool) -> str:
    return " + ".join(f"{part:.4g}" for part in (parts if snows else parts[:2]))


def _line(symbol: str, words: str, numbers: str, value: float, unit: str) -> Step:
    return Step(symbol, words, "", numbers, value, unit, STATICS)
