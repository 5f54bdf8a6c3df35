"""What the rules say of one flight: risers, treads, height, width, landings."""

from __future__ import annotations

from dataclasses import replace

from deckplan.levels.buildable import why_more
from deckplan.levels.landings import check_landings
from deckplan.levels.model import Ground, Note, Rise
from deckplan.levels.places import Place, door_platform
from deckplan.levels.risers import ARITHMETIC, riser_steps, split_rise
from deckplan.plan.model import Plan
from deckplan.rules.profile import Profile
from deckplan.units import Units, format_length, format_short
from deckplan.verdict import SAME, Check, Source, Step, Verdict, at_least, at_most, not_applicable, outside

GEOMETRY = Source("Geometry of the plan", "", "derived")


def flight_mark(index: int) -> str:
    """Return the mark of a flight by its place in the plan: S1, S2 and so on."""
    return f"S{index + 1}"


def check_flight(
    plan: Plan, rise: Rise, place: Place, flights: tuple[Rise, ...], ground: Ground, profile: Profile
) -> tuple[Check, ...]:
    """Check one flight against a profile; a flight that does not go down is told so and nothing else.

    flights: all of the plan, since a shallow platform makes two of them one.
    """
    mark = flight_mark(rise.index)
    if rise.rise <= 0:
        return (_no_way_down(mark, rise, plan.units),)
    checks = [*_risers(plan, rise, profile), *_treads(plan, rise, profile)]
    height, width = profile.flight_rise_max, profile.flight_width_min
    checks.append(at_most(mark, "flight height", height.source, rise.rise, height.value, "in"))
    checks.append(at_least(mark, "flight width", width.source, rise.width, width.value, "in"))
    if place.problem:
        checks.append(
            Check(mark, "place of the flight", GEOMETRY, None, None, "", Verdict.FAIL, reason=place.problem)
        )
    if rise.lower == "ground":
        checks.append(_slope(mark, rise, ground, profile))
    else:
        checks += check_landings(plan, rise, flights, profile)
    return tuple(checks)


def _no_way_down(mark: str, rise: Rise, units: Units) -> Check:
    lower = "the ground where it lands" if rise.lower == "ground" else f'"{rise.lower}"'
    by = abs(rise.rise)
    words = f"{format_short(by, units)} under" if by > 1e-9 else "level with"
    return Check(
        mark, "way down", GEOMETRY, rise.top, rise.bottom, "in", Verdict.FAIL, at_least=True,
        reason=f'"{rise.upper}" is {words} {lower}: a flight goes down from its upper level; '
        "swap its two ends, change an elevation, or leave the flight out",
    )  # fmt: skip


def _risers(plan: Plan, rise: Rise, profile: Profile) -> list[Check]:
    mark, most, least = flight_mark(rise.index), profile.riser_max, profile.riser_min
    more = why_more(plan, plan.flights[rise.index], rise.rise, rise.risers, profile)
    steps = riser_steps(rise.rise, rise.risers, profile, more)
    split = split_rise(rise.rise, profile, units=plan.units)
    forced = rise.risers != split.risers
    asked = (
        f"asked to be {rise.kind}, {rise.risers} of {format_short(rise.riser, plan.units)}; {split.reason}"
    )
    why = asked if forced else split.reason
    checks = [at_most(mark, "riser, largest", most.source, rise.riser, most.value, "in", steps, reason=why)]
    if is_threshold(plan, rise, profile):
        egress = profile.egress_door_step_max
        note = f"a threshold of up to {format_short(egress.value, plan.units)} is no riser"
        checks.append(not_applicable(mark, "riser, least", egress.source, note))
    elif least is None:
        note = profile.unstated.get("riser_min", "no least riser is stated")
        checks.append(not_applicable(mark, "riser, least", most.source, note))
    else:
        checks.append(
            at_least(mark, "riser, least", least.source, rise.riser, least.value, "in", steps, reason=why)
        )
    equal = Step("", "largest less smallest riser", "", "equal by construction", 0.0, "in", ARITHMETIC)
    for name, rule in (("riser_spread_max", "riser spread"), ("riser_neighbours_max", "riser, step to step")):
        limit = getattr(profile, name)
        if limit is not None:
            checks.append(at_most(mark, rule, limit.source, 0.0, limit.value, "in", (equal,)))
    return checks


def is_threshold(plan: Plan, rise: Rise, profile: Profile) -> bool:
    """Tell whether a flight is only the threshold of a door: one step no higher than a threshold may be."""
    low = rise.rise <= profile.egress_door_step_max.value + SAME
    return low and rise.risers == 1 and plan.door(rise.upper) is not None


def _treads(plan: Plan, rise: Rise, profile: Profile) -> list[Check]:
    mark, least = flight_mark(rise.index), profile.tread_min
    if rise.risers < 2:
        return [not_applicable(mark, "tread depth", least.source, "one riser has no tread of its own")]
    return [at_least(mark, "tread depth", least.source, rise.tread, least.value, "in")]


def _slope(mark: str, rise: Rise, ground: Ground, profile: Profile) -> Check:
    limit, slope = profile.ground_slope_max, ground.slope_at(rise.landing)
    if slope > limit.value:
        reason = (
            f"the ground at the landing falls {slope:.2f} in 1, over {limit.value:g}: an engineer's matter"
        )
        return outside(
            mark, "ground slope", limit.source, reason, demand=slope, capacity=limit.value, unit="in/in"
        )
    return at_most(mark, "ground slope", limit.source, slope, limit.value, "in/in")


def flight_notes(plan: Plan, rise: Rise, ground: Ground, profile: Profile) -> tuple[Note, ...]:
    """Return what a person should know of a flight beyond its checks."""
    mark, units = flight_mark(rise.index), plan.units
    if rise.rise <= 0:
        return ()
    notes = []
    if rise.risers >= profile.handrail_risers.value:
        low, high = profile.handrail_height_min, profile.handrail_height_max
        heights = f"{format_short(low.value, units)} to {format_short(high.value, units)}"
        notes.append(
            Note("caution", f"{mark}: {rise.risers} risers want a handrail, {heights} high ({low.source})")
        )
    if rise.risers <= 2 and not is_threshold(plan, rise, profile):
        words = "a single step trips" if rise.risers == 1 else "two steps trip"
        notes.append(
            Note(
                "caution", f"{mark}: {words} people: contrast, light and grip at the edge (trade literature)"
            )
        )
    sum_ = 2 * rise.riser + rise.tread
    low, high = profile.comfort_low, profile.comfort_high
    if rise.risers > 1 and not low.value <= sum_ <= high.value:
        band = f"{format_short(low.value, units)} to {format_short(high.value, units)}"
        notes.append(
            Note("advice", f"{mark}: 2R + T = {format_short(sum_, units)}, outside the {band} that walk well")
        )
    if rise.lower == "ground":
        notes += _ground_notes(rise, ground, profile, mark, plan.units)
    return tuple(notes)


def _ground_notes(rise: Rise, ground: Ground, profile: Profile, mark: str, units: Units) -> list[Note]:
    notes = []
    if not ground.measured_at(rise.landing):
        place = ", ".join(format_length(at, units) for at in rise.landing)
        notes.append(
            Note("ask", f"{mark}: measure the ground at its landing, ({place}); none is measured there")
        )
    (x0, y0), (x1, y1) = rise.along
    shift = (rise.down[0] * rise.run, rise.down[1] * rise.run)
    ends = [ground.elevation_at((x + shift[0], y + shift[1])) for x, y in ((x0, y0), (x1, y1))]
    across = abs(ends[0] - ends[1])
    if across > profile.riser_spread_max.value:
        text = (
            f"the ground falls {format_short(across, units)} across its width: give it a level pad at "
            f"{format_length(rise.bottom, units)}"
        )
        notes.append(Note("advice", f"{mark}: {text}"))
    return notes


def door_checks(
    plan: Plan, elevations: dict[str, float], flights: tuple[Rise, ...], profile: Profile
) -> list[Check]:
    """Check the step or the flight outside every door that opens onto the deck."""
    found = []
    for door in plan.house.doors:
        platform = door_platform(plan, door, elevations)
        leaving = [rise for rise in flights if rise.upper == door.name]
        if leaving:
            limit = profile.door_flight_risers
            reason = "more risers than a door may have outside it without a landing at its sill"
            found += [
                at_most(
                    door.name, "door landing", limit.source, rise.risers, limit.value, "risers", reason=reason
                )
                for rise in leaving
            ]
        elif platform is not None:
            step = door.sill - elevations[platform.name]
            found.append(_door_step(door.name, step, platform.name, profile, plan.units))
        else:
            continue
    return found


def door_notes(
    plan: Plan, elevations: dict[str, float], flights: tuple[Rise, ...], ground: Ground, profile: Profile
) -> list[Note]:
    """Ask what stands before a door that lies higher over the ground than a step and opens onto nothing drawn."""
    served = {rise.upper for rise in flights}
    found = []
    for door in plan.house.doors:
        high = door.sill - ground.elevation_at(door.at)
        if door.name in served or high <= profile.door_step_max.value + SAME:
            continue
        if door_platform(plan, door, elevations) is None:
            text = (
                f'door "{door.name}" opens onto nothing that is drawn, {format_short(high, plan.units)} over the '
                "ground: draw the level or the flight before it, or say how it is kept shut"
            )
            found.append(Note("ask", text))
    return found


def _door_step(door: str, step: float, platform: str, profile: Profile, units: Units) -> Check:
    limit, egress = profile.door_step_max, profile.egress_door_step_max
    line = Step(
        "",
        "step down at the door",
        "sill - platform",
        "",
        step,
        "in",
        Source("Geometry of the plan", "", "derived"),
    )
    if step < 0:
        reason = (
            f'"{platform}" lies {format_short(-step, units)} above the sill: people trip and water runs in'
        )
        return Check(
            door, "door step", limit.source, step, limit.value, "in", Verdict.FAIL, (line,), reason=reason
        )
    check = at_most(door, "door step", limit.source, step, limit.value, "in", (line,))
    if check.verdict is Verdict.PASS and step > egress.value:
        text = f"at most {format_short(egress.value, units)} where this is the required way out ({egress.source})"
        return replace(check, reason=text)
    return check
