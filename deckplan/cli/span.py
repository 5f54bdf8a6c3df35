"""`deckplan span`: what one member can do by itself, with the sum."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Mapping
from typing import Any

from deckplan.cli.text import number, step_to_json, steps_text, table
from deckplan.engineering.answers import Answer
from deckplan.engineering.joists import AreaLoads
from deckplan.errors import RangeError
from deckplan.units import format_feet, format_inches

Spoken = tuple[dict[str, Any], str, bool]


def answer_span(args: Namespace) -> Spoken:
    """Answer one `span` command: the JSON object, the text, and whether a rule covers the case.

    Raises InputError for names and sizes that are not known.
    """
    try:
        return _ANSWERS[args.member](args)
    except RangeError as error:
        data = {"verdict": "OUTSIDE", "reason": str(error), "steps": []}
        return data, f"OUTSIDE: {error}", False


def _joist(args: Namespace) -> Spoken:
    from deckplan.engineering.joists import joist_overhang, joist_span

    loads = AreaLoads(args.live, args.dead, args.snow)
    common = {"wet": not args.dry, "incised": args.incised}
    span = joist_span(args.species, args.grade, args.size, args.spacing, loads, **common)
    over = joist_overhang(args.species, args.grade, args.size, args.spacing, None, loads, **common)
    data = _data(span, "span_in") | {
        "overhang_in": number(over.value),
        "overhang_governs": over.governs,
        "overhang_steps": [step_to_json(step) for step in over.steps],
        "combinations": _combinations(loads),
    }
    title = f"Joist {args.size}, {args.species} {args.grade}, {format_inches(args.spacing)} on centre"
    lines = [
        title,
        f"  span      {_both(span.value)}, {span.governs} governs",
        f"  overhang  {_both(over.value)}, {over.governs} governs",
        *_snow_words(loads),
    ]
    return data, _text(lines, span) + "\n\nThe sum of the overhang\n" + steps_text(over.steps), True


def _beam(args: Namespace) -> Spoken:
    from deckplan.engineering.beams import beam_span

    loads = AreaLoads(args.live, args.dead, args.snow)
    span = beam_span(
        args.species, args.grade, args.size, args.joist_span, loads,
        wet=not args.dry, incised=args.incised, overhang=args.overhang, basis=args.basis,
    )  # fmt: skip
    title = f"Beam {args.size}, {args.species} {args.grade}, under joists of {format_feet(args.joist_span)}"
    lines = [title, f"  span      {_both(span.value)}, post centre to post centre, {span.governs} governs"]
    lines += _snow_words(loads)
    return (
        _data(span, "span_in") | {"basis": args.basis, "combinations": _combinations(loads)},
        _text(lines, span),
        True,
    )


def _post(args: Namespace) -> Spoken:
    from deckplan.engineering.columns import post_height

    height = post_height(
        args.species, args.grade, args.size, args.load, wet=not args.dry, incised=args.incised
    )
    lines = [
        f"Post {args.size}, {args.species} {args.grade}, under {args.load:,.10g} lb in its middle",
        f"  tallest   {format_feet(height.value)}, {height.governs} governs",
    ]
    return _data(height, "height_in"), _text(lines, height), True


def _footing(args: Namespace) -> Spoken:
    from deckplan.engineering.concrete import footing_size

    footing = footing_size(args.load, args.soil, post=args.post)
    data = {
        "diameter_in": footing.diameter,
        "side_in": footing.side,
        "thickness_in": footing.thickness,
        "governs": footing.governs,
        "bare_diameter_in": footing.bare_diameter,
        "bare_side_in": footing.bare_side,
        "steps": [step_to_json(step) for step in footing.steps],
    }
    rows = [
        ("round, diameter", f"{footing.diameter} in", f"{footing.bare_diameter} in"),
        ("square, side", f"{footing.side} in", f"{footing.bare_side} in"),
        ("thickness", f"{footing.thickness} in", ""),
    ]
    lines = [
        f"Footing under {args.load:,.10g} lb on {args.soil:,.10g} psf; {footing.governs} governs the thickness",
        table(("", "with its own weight", "without"), rows),
        "",
        "The sum",
        steps_text(footing.steps),
    ]
    return data, "\n".join(lines), True


def _ledger(args: Namespace) -> Spoken:
    from deckplan.engineering.prescriptive import ledger_spacing

    loads = AreaLoads(args.live, args.dead, args.snow)
    answer = ledger_spacing(args.fastener, args.joist_span, loads, sheathing=args.sheathing)
    lines = [
        f"Ledger, {args.fastener} fasteners, under joists of {format_feet(args.joist_span)}",
        f"  spacing   {format_inches(answer.value)} on centre, {answer.governs} governs",
    ]
    return _data(answer, "spacing_in"), _text(lines, answer), True


_ANSWERS = {"joist": _joist, "beam": _beam, "post": _post, "footing": _footing, "ledger": _ledger}


def _combinations(loads: AreaLoads) -> list[str]:
    """Name the load combinations that a span was found under."""
    return [name for name, *_ in loads.cases()]


def _snow_words(loads: AreaLoads) -> list[str]:
    """Say that the tables take snow and people one at a time, where it snows."""
    if loads.snow <= 0:
        return []
    return ["  snow      one at a time with live load, as the tables; a study also takes D + 0.75 L + 0.75 S"]


def _both(inches: float) -> str:
    """Write a length exactly and as published tables print it, to the nearest inch."""
    return f"{format_feet(inches)} ({format_feet(round(inches))} to the nearest inch, as tables print it)"


def _data(answer: Answer, key: str) -> dict[str, Any]:
    return {
        key: number(answer.value),
        "governs": answer.governs,
        "limits_in": _finite(answer.limits),
        "steps": [step_to_json(step) for step in answer.steps],
    }


def _finite(limits: Mapping[str, float]) -> dict[str, float | None]:
    """Write what each rule alone would allow [in]; null where it sets no limit."""
    return {name: number(value) for name, value in limits.items()}


def _text(lines: list[str], answer: Answer) -> str:
    rows = [(name, format_feet(value)) for name, value in answer.limits.items() if value != float("inf")]
    parts = [*lines, "", "Each rule alone would allow", table(("rule", "length"), rows)]
    return "\n".join([*parts, "", "The sum", steps_text(answer.steps)])
