"""A study as one JSON object and as text for a terminal."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from deckplan.checks.pairs import worst_pairs
from deckplan.cli.text import number, section, step_to_json, table, wrapped
from deckplan.geometry import Line, Point, area
from deckplan.layout.model import Layout, Member
from deckplan.study import Study
from deckplan.units import Units, format_length, format_short, restate, to_unit
from deckplan.verdict import Check, Verdict, is_strength, said

FORMAT = 1
SHOWN = 10
"""How many of the passing checks the text shows, the most used first."""


def study_to_json(study: Study) -> dict[str, Any]:
    """Return a study as plain values, keys with their units; the form of format 1 is kept for others."""
    return {
        "format": FORMAT,
        "plan": study.plan.name,
        "rules": study.profile.name,
        "verdict": study.verdict.value,
        "levels": _levels(study),
        "flights": _flights(study),
        "members": _members(study),
        "posts": _posts(study),
        "footings": _footings(study),
        "guards": _guards(study.layout),
        "checks": [_check(check) for check in study.checks],
        "notes": [{"level": note.level, "text": note.text} for note in study.all_notes],
    }


def _members(study: Study) -> list[dict[str, Any]]:
    """Every piece: the frame as built, posts, boards."""
    posts = [
        {
            "mark": post.mark,
            "platform": post.platform,
            "kind": "post",
            "size": post.size,
            "length_in": number(post.length),
            **_ends((post.at, post.at)),
            "elevation_in": number(post.top),
        }
        for post in study.layout.posts
    ]
    thickness = study.plan.materials.decking.thickness
    boards = [
        {
            "mark": board.mark,
            "platform": board.platform,
            "kind": "board",
            "size": f"{thickness:.6g} x {board.width:.6g}",
            "length_in": number(board.length),
            **_ends((board.ends[0].at, board.ends[-1].at)),
            "elevation_in": number(study.levels.elevation(board.platform)),
        }
        for board in study.boards.all
    ]
    return [*(_member(member) for member in study.built.members), *posts, *boards]


def _at(point: Point) -> list[float | None]:
    return [number(point[0]), number(point[1])]


def _ends(line: Line) -> dict[str, Any]:
    return {"from": _at(line[0]), "to": _at(line[1])}


def _levels(study: Study) -> list[dict[str, Any]]:
    return [
        {
            "platform": level.platform,
            "elevation_in": number(level.elevation),
            "chosen": level.chosen,
            "area_sqft": number(study.loads.areas[level.platform].area),
        }
        for level in study.levels.levels
    ]


def _flights(study: Study) -> list[dict[str, Any]]:
    found = []
    frames = {frame.index: frame for frame in study.flights.flights}
    for rise in study.levels.flights:
        frame = frames[rise.index]
        found.append(
            {
                "from": rise.upper,
                "to": rise.lower,
                "kind": rise.kind,
                "rise_in": number(rise.rise),
                "risers": rise.risers,
                "riser_in": number(rise.riser),
                "tread_in": number(rise.tread),
                "width_in": number(rise.width),
                "frames": [
                    {"height_in": number(f.height), "joists": f.joists, "spacing_in": number(f.spacing)}
                    for f in frame.frames
                ],
                "fixings": [
                    {"kind": f.kind, "at": _at(f.at), "elevation_in": number(f.elevation)}
                    for f in frame.fixings
                ],
                "blocking": [_ends(line) for line in frame.blocking],
                "mark": frame.mark,
                "along": _ends(rise.along),
            }
        )
    return found


def _member(member: Member) -> dict[str, Any]:
    return {
        "mark": member.mark,
        "platform": member.platform,
        "kind": member.kind.value,
        "size": member.size,
        "length_in": number(member.length),
        **_ends(member.line),
        "elevation_in": number(member.top),
    }


def _posts(study: Study) -> list[dict[str, Any]]:
    found = []
    for post in study.layout.posts:
        force = study.loads.posts[post.mark]
        design, combination = force.governing
        found.append(
            {
                "mark": post.mark,
                "at": _at(post.at),
                "size": post.size,
                "height_in": number(post.height),
                "length_in": number(post.length),
                "notch_in": number(post.notch.depth) if post.notch else 0.0,
                "load_lb": number(force.full, 6),
                "carries": list(post.carries),
                "footing": post.footing,
                "stands_on": post.stands_on,
                "design_lb": number(design, 6),
                "combination": combination,
            }
        )
    return found


def _footings(study: Study) -> list[dict[str, Any]]:
    return [
        {
            "mark": footing.mark,
            "at": _at(footing.at),
            "diameter_in": number(footing.diameter),
            "thickness_in": number(footing.thickness),
            "bottom_in": number(footing.bottom),
            "load_lb": number(footing.load, 6),
            "design_lb": number(footing.design, 6),
        }
        for footing in study.footings
    ]


def _guards(layout: Layout) -> list[dict[str, Any]]:
    return [
        {
            "platform": guard.platform,
            **_ends((guard.start, guard.end)),
            "drop_in": number(guard.drop),
            "required": guard.required,
            "reason": guard.reason,
            "opening": guard.opening,
        }
        for guard in layout.guards
    ]


def _check(check: Check) -> dict[str, Any]:
    return {
        "mark": check.mark,
        "rule": check.rule,
        "source": str(check.source),
        "demand": number(check.demand),
        "capacity": number(check.capacity),
        "unit": check.unit,
        "utilisation": number(check.utilisation),
        "verdict": check.verdict.value,
        "steps": [step_to_json(step) for step in check.steps],
        "at_least": check.at_least,
        "combination": check.combination,
        "reason": check.reason,
    }


# -- text --

_UNITS = {
    "in": ("in", "mm", "mm"),
    "lb": ("lbf", "kN", "kN"),
    "psf": ("psf", "kPa", "kPa"),
    "psi": ("psi", "MPa", "MPa"),
    "lb in": ("lbf*in", "kN*m", "kN m"),
    "ft**2": ("ft**2", "m**2", "sq m"),
}
"""Units of checks: as pint reads them, their metric ones as pint and as people write them."""

_SAID: dict[Units, dict[str, str]] = {
    "us": {"lb": "lb", "ft**2": "sq ft"},
    "metric": {unit: metric for unit, (_, _, metric) in _UNITS.items()},
}


def _shown(value: float, unit: str, units: Units) -> float:
    """Return a value [unit] in the unit that people of a system read."""
    if units == "us" or unit not in _UNITS:
        return value
    ours, metric, _ = _UNITS[unit]
    return to_unit(value, ours, metric)


def study_text(study: Study, everything: bool = False) -> str:
    """Write a study for a terminal: what follows from the plan, what fails and why, what is used the most.

    everything: also every member and every check.
    """
    parts = [_title(study), _levels_text(study), _flights_text(study)]
    parts += [_members_text(study, everything), _posts_text(study), _guards_text(study)]
    parts += [*_checks_text(study, everything), _notes_text(study)]
    return "\n\n".join(part for part in parts if part)


def _title(study: Study) -> str:
    counts = {verdict: sum(check.verdict is verdict for check in study.checks) for verdict in Verdict}
    passed = f"{counts[Verdict.PASS]} checks pass"
    failed = f"{counts[Verdict.FAIL]} fail, {counts[Verdict.OUTSIDE]} lie outside the rules"
    return f"{study.plan.name} (rules: {study.profile.name})\n{study.verdict.value}: {passed}, {failed}"


def _levels_text(study: Study) -> str:
    units = study.plan.units
    rows = [
        (
            level.platform,
            format_length(level.elevation, units),
            "chosen in its range" if level.chosen else "as given",
            f"{_shown(abs(area(study.plan.platform(level.platform).outline)) / 144, 'ft**2', units):.4g}",
        )
        for level in study.levels.levels
    ]
    return section("Levels", table(("platform", "elevation", "", f"area, {_SAID[units]['ft**2']}"), rows))


def _flights_text(study: Study) -> str:
    units = study.plan.units
    rows = [
        (
            f"S{rise.index + 1}",
            f"{rise.upper} to {rise.lower}",
            rise.kind,
            format_short(rise.rise, units),
            f"{rise.risers} x {format_short(rise.riser, units)}",
            format_short(rise.tread, units) if rise.risers > 1 else "",
            format_length(rise.width, units),
        )
        for rise in study.levels.flights
    ]
    return (
        section("Flights", table(("mark", "way", "kind", "rise", "risers", "tread", "width"), rows))
        if rows
        else ""
    )


def _members_text(study: Study, everything: bool) -> str:
    units = study.plan.units
    if everything:
        rows: list[tuple[object, ...]] = [
            (m.mark, m.platform, m.kind.value, m.size, format_length(m.length, units))
            for m in study.layout.members
        ]
        return section("Members", table(("mark", "platform", "kind", "size", "length"), rows))
    groups: dict[tuple[str, str, str], list[Member]] = {}
    for member in study.layout.members:
        groups.setdefault((member.platform, member.kind.value, member.size), []).append(member)
    rows = [
        (platform, kind, size, len(found), format_length(max(m.length for m in found), units))
        for (platform, kind, size), found in groups.items()
    ]
    return section("Members", table(("platform", "kind", "size", "pieces", "longest"), rows))


def _posts_text(study: Study) -> str:
    units = study.plan.units
    footings = {footing.mark: footing for footing in study.footings}
    rows = []
    for post in study.layout.posts:
        footing = footings.get(post.footing)
        below = (
            (f"on {post.stands_on}", "", "", "", "")
            if footing is None
            else (
                post.footing,
                format_short(footing.diameter, units),
                format_short(footing.top - footing.bottom, units),
                format_short(footing.thickness, units),
                f"{_shown(footing.design, 'lb', units):.4g}",
            )
        )
        load = _shown(study.loads.posts[post.mark].governing[0], "lb", units)
        rows.append((post.mark, post.size, format_short(post.height, units), f"{load:.4g}", *below))
    headings = (
        "post",
        "size",
        "height",
        f"load, {_SAID[units]['lb']}",
        "footing",
        "diameter",
        "depth",
        "least thick",
        f"sized for, {_SAID[units]['lb']}",
    )
    return section("Posts and footings", table(headings, rows)) if rows else ""


def _guards_text(study: Study) -> str:
    units = study.plan.units
    rows = [
        (guard.platform, format_short(guard.drop, units), guard.reason)
        for guard in study.layout.guards
        if guard.required
    ]
    rows = list(dict.fromkeys(rows))
    return section("Edges that need a guard", table(("platform", "drop", "why"), rows)) if rows else ""


def _checks_text(study: Study, everything: bool) -> Iterable[str]:
    words = {
        Verdict.FAIL: "What fails, and why",
        Verdict.OUTSIDE: "What no rule here covers: an engineer must",
    }
    for verdict, title in words.items():
        lines = [
            wrapped(f"{check.mark}: {restate(_reason(check), study.plan.units)} [{check.source}]")
            for check in worst_pairs(study.checks)
            if check.verdict is verdict
        ]
        if lines:
            yield section(title, "\n".join(lines))
    units = study.plan.units
    passing = [
        check for check in study.checks if check.verdict is Verdict.PASS and check.utilisation is not None
    ]
    passing.sort(key=lambda check: -(check.utilisation or 0.0))
    by_rule = {check.rule: check for check in reversed(passing)}
    # a limit of size that is just met says nothing of how far wood or soil is used
    most_used = [check for check in passing if by_rule[check.rule] is check and is_strength(check)]
    rows = [
        (
            check.mark,
            check.rule,
            f"{_shown(check.demand or 0.0, check.unit, units):.5g}",
            check.side,
            f"{_shown(check.capacity or 0.0, check.unit, units):.5g}",
            _SAID[units].get(check.unit, said(check.unit)),
            f"{check.utilisation:.0%}",
        )
        for check in (passing if everything else most_used[:SHOWN])
    ]
    if rows:
        title = "Checks that pass" if everything else "What passes, the most used member under each rule"
        yield section(title, table(("mark", "rule", "found", "must be", "limit", "unit", "used"), rows))


def _reason(check: Check) -> str:
    """Return why, without the mark that leads the line already."""
    return (check.reason or check.rule).removeprefix(f"{check.mark}: ")


def _notes_text(study: Study) -> str:
    return section(
        "Notes",
        "\n".join(wrapped(f"{note.level}: {restate(note.text, study.plan.units)}") for note in study.notes),
    )
