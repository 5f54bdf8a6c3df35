"""What a person should hear beside the checks: cautions that always hold, advice, questions left open."""

from __future__ import annotations

import re

from deckplan.checks.apart import prying_notes
from deckplan.checks.footings import FootingDesign
from deckplan.checks.footings_apart import close_hole_notes
from deckplan.checks.guards import guard_notes, hole_notes, weight_notes
from deckplan.checks.overlaps import low_notes
from deckplan.checks.pulled import Pulled, find_pulled
from deckplan.checks.scope_notes import scope_notes
from deckplan.checks.short_posts import short_post_notes
from deckplan.engineering.lumber import design_values
from deckplan.layout.alignment import alignment_notes
from deckplan.layout.flight_model import FlightFrames
from deckplan.layout.model import Layout
from deckplan.levels.model import Levels, Note
from deckplan.loads.model import Loads
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.verdict import Check

CAUTION = "Planning aid. Local code, product instructions and licensed practice decide."
DIG = "Call before you dig: buried lines are marked free of charge in most places."
CONNECTORS = (
    "Connectors are named by kind and required capacity; use rated hardware and its maker's fasteners."
)

__all__ = ["CAUTION", "Note", "edition_notes", "find_notes"]


def find_notes(
    plan: Plan,
    profile: Profile,
    levels: Levels,
    layout: Layout,
    flights: FlightFrames,
    loads: Loads,
    footings: tuple[FootingDesign, ...],
) -> tuple[Note, ...]:
    """Gather every note of a study: the standing cautions first, then what this plan leaves open."""
    notes = [
        Note("caution", CAUTION),
        Note("caution", DIG),
        *levels.notes,
        *flights.notes,
        Note("advice", CONNECTORS),
    ]
    if not plan.site.frost_depth:
        notes.append(Note("ask", "no frost depth is given: ask the building department before digging"))
    if "soil_bearing" not in plan.site.model_fields_set:
        notes.append(
            Note(
                "ask",
                f"soil bearing was not given: {plan.site.soil_bearing:g} psf, the least of the table, is taken, "
                "not confirmed by a soil test",
            )
        )
    notes += guard_notes(plan, profile, layout)
    notes += weight_notes(plan, layout, loads)
    notes += hole_notes(plan)
    notes += prying_notes(plan, layout)
    notes += alignment_notes(plan)
    notes += scope_notes(plan, profile, levels, layout)
    notes += _below_frost(plan, find_pulled(plan, profile, levels, layout, footings))
    notes += close_hole_notes(plan, footings)
    notes += low_notes(plan, levels, layout)
    notes += short_post_notes(plan, layout)
    notes += _unconfirmed(plan)
    notes += _treatment(plan)
    notes += _unmeasured(plan, levels, layout)
    return tuple(dict.fromkeys(notes))


NAMED = 6
"""How many marks a note names before it counts the rest."""


def _unmeasured(plan: Plan, levels: Levels, layout: Layout) -> list[Note]:
    """Ask for the ground under posts that stand where nobody measured; of flights' landings the levels ask."""
    # where nothing at all was measured, the levels say so once
    marks = [post.mark for post in layout.posts if not levels.ground.measured_at(post.at)]
    if not marks or not plan.site.ground:
        return []
    more = f" and {len(marks) - NAMED} more" if len(marks) > NAMED else ""
    text = f"measure the ground under {', '.join(marks[:NAMED])}{more}: the nearest measured height is taken"
    return [Note("ask", text)]


def _below_frost(plan: Plan, pulled: tuple[Pulled, ...]) -> list[Note]:
    """Say what ties to the house cost of levels that could stand free."""
    if not pulled:
        return []
    each = "; ".join(f'"{one.platform}": {one.went(plan.units)}' for one in pulled)
    return [
        Note("advice", f"ties bring levels below the frost that need not be when they stand free: {each}")
    ]


def _unconfirmed(plan: Plan) -> list[Note]:
    """Say which design values nobody confirmed against a printed table."""
    found = []
    for size in ("2x8", plan.materials.post):
        values = design_values(plan.materials.species, plan.materials.grade, size)
        if "memory" in values.confirmed.lower():
            found.append(
                Note("ask", f"design values of {values.species} {values.grade} in {size}: {values.confirmed.lower()}; "
                     "have them confirmed against the printed supplement")
            )  # fmt: skip
    return found


REFRACTORY = ("douglas fir", "hem-fir", "spruce-pine-fir")
"""Species that take treatment only where they are incised. Source: AWC DCA6 Table 2 notes."""


def _treatment(plan: Plan) -> list[Note]:
    """Ask whether lumber that is usually incised for treatment is not."""
    species = plan.materials.species.strip().lower()
    if plan.materials.incised or not species.startswith(REFRACTORY):
        return []
    usual = f"{plan.materials.species} is usually incised for treatment, which costs a fifth of its strength"
    text = f"{usual}: is it not here?"
    return [Note("ask", text)]


EDITION = re.compile(r"IRC (20\d\d)")
"""A residential code with its edition, as sources name it."""


def edition_notes(profile: Profile, checks: tuple[Check, ...]) -> tuple[Note, ...]:
    """Say why some checks cite another edition of the residential code than the rules' own."""
    own = re.search(r"Residential Code (20\d\d)", profile.title)
    if own is None:
        return ()
    cited = [found[1] for check in checks if (found := EDITION.match(check.source.document))]
    others = sorted({year for year in cited if year != own[1]})
    if not others:
        return ()
    count = sum(1 for year in cited if year != own[1])
    text = (
        f"rules are of {own[1]}; {count} of {len(checks)} checks cite the IRC of {' and '.join(others)}, since their "
        f"clause or table was at hand in that edition alone: compare them with the one in force"
    )
    return (Note("ask", text),)
