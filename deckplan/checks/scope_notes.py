"""Advice and questions that follow from how levels are used and stand together; no verdict hangs on them."""

from __future__ import annotations

from deckplan.checks.heavy_uses import use_questions
from deckplan.checks.lateral import AT_HOUSE, BOTH_WAYS, check_lateral
from deckplan.checks.setbacks import setback_notes
from deckplan.checks.uses import FIRE, ROOF, TUB
from deckplan.geometry import point_to_line
from deckplan.layout.frame import Frame
from deckplan.layout.model import Kind, Layout
from deckplan.layout.parts import find_parts
from deckplan.levels.model import Levels, Note
from deckplan.plan.model import Plan, Platform
from deckplan.rules.profile import Profile
from deckplan.units import format_length, format_short
from deckplan.verdict import Verdict

HIGHER_LIVE_LOAD = 60.0
"""Live load that some places ask of decks [psf]. Source: local amendments of IRC Table R301.5."""

OUT = "Say so in its use: that lies outside the rules"


def scope_notes(plan: Plan, profile: Profile, levels: Levels, layout: Layout) -> tuple[Note, ...]:
    """Return what a person should hear of scope and neighbours beside the checks."""
    found = [*_lateral(plan, profile, levels, layout), *_published_scope(plan, layout)]
    for platform in plan.platforms:
        found += _use(platform)
    live = profile.live_load.value if plan.site.live_load is None else plan.site.live_load
    if plan.platforms and live < HIGHER_LIVE_LOAD:
        found.append(
            Note(
                "ask",
                f"live load {live:g} psf: some places ask {HIGHER_LIVE_LOAD:g} psf of decks",
            )
        )
    found += _unknown_house_footing(plan, profile, layout)
    found += setback_notes(plan, levels)
    if any(member.kind is Kind.BRACE for member in layout.members):
        words = "knee braces push their beams up and down beside the posts when people sway: no beam's sum counts that"
        found.append(Note("ask", words))
    found += _cut_posts(layout)
    return tuple(dict.fromkeys(found))


def _lateral(plan: Plan, profile: Profile, levels: Levels, layout: Layout) -> list[Note]:
    """Say once more what the lateral system asks for, since no drawing shows it."""
    two, four = profile.lateral_two_force.value, profile.lateral_four_force.value
    found = []
    for part, check in zip(
        find_parts(plan, levels, layout), check_lateral(plan, profile, levels, layout), strict=True
    ):
        if check.rule == AT_HOUSE:
            words = (
                f"{part.named}: hold it to the house against a pull, by 2 hold-downs of {two:g} lb or 4 of {four:g} lb "
                f"({check.source})"
            )
            found.append(Note("advice", words))
            if part.height > profile.bracing_height.value:
                high = format_short(profile.bracing_height.value, plan.units)
                words = (
                    f"{part.named}: over {high} high, the guide braces corner posts of attached decks along their "
                    "beams too (AWC DCA6, from memory); none are drawn"
                )
                found.append(Note("ask", words, open=True))
        elif check.rule == BOTH_WAYS and check.verdict is Verdict.PASS and check.reason:
            names = {platform.name for platform in part.platforms}
            braced = any(member.kind is Kind.BRACE and member.platform in names for member in layout.members)
            found.append(Note("advice", f"{check.reason} ({check.source})", open=not braced))
            found.append(
                Note(
                    "ask",
                    "wind and earthquakes are not in these sums: where they count, an engineer adds them",
                )
            )
    return found


def _published_scope(plan: Plan, layout: Layout) -> list[Note]:
    """Say where the published deck guide ends; what lies beyond is computed."""
    found = []
    if layout.pads:
        words = (
            "footings are round piers filled to their full depth, sized by their load: many places ask "
            f"{format_short(14.0, plan.units)} round at the least (IRC Table R507.3.1, from memory)"
        )
        found.append(Note("ask", words))
    if len(plan.platforms) > 1:
        found.append(
            Note("advice", "the published guide ends at a single level (AWC DCA6-2015): this is computed")
        )
    for platform in plan.platforms:
        ledgers = layout.of(platform.name, Kind.LEDGER)
        if not ledgers:
            continue
        frame = Frame.of(platform)
        out, wide = frame.depth, frame.width
        if out > wide + 1e-6:
            found.append(
                Note(
                    "advice",
                    f'"{platform.name}" reaches {format_length(out, plan.units)} out and is '
                    f"{format_length(wide, plan.units)} wide: the published guide wants length "
                    "not over width (AWC DCA6); "
                    "its sideways push is for a designer",
                )
            )
    return found


def _use(platform: Platform) -> list[Note]:
    name, found = platform.name, []
    if FIRE.search(platform.use):
        found.append(
            Note(
                "caution",
                f'"{name}": wood fires keep 10 to 25 ft from structures by town, and never stand on a '
                "combustible deck",
            )
        )
    if not TUB.search(platform.use) and TUB.search(f"{name} {platform.use}"):
        found.append(Note("ask", f'"{name}": does it carry a tub? {OUT}'))
    found += [Note("ask", text) for text in use_questions(platform)]
    if not ROOF.search(platform.use) and ROOF.search(name):
        found.append(Note("ask", f'"{name}": does it carry a roof or walls? {OUT}'))
    return found


def _cut_posts(layout: Layout) -> list[Note]:
    """Ask for treatment of what a notch lays open: the floor is end grain, and water stands on it."""
    if not any(post.notch for post in layout.posts):
        return []
    words = "notched posts: treat every cut in the field, the notch's floor above all"
    return [Note("advice", f"{words} (Wisconsin SPS 320-325 Appendix B)")]


def _unknown_house_footing(plan: Plan, profile: Profile, layout: Layout) -> list[Note]:
    zone = profile.house_footing_zone
    found = []
    for wall in plan.house.walls:
        lines = list(zip(wall.line, wall.line[1:], strict=False))
        near = [p.mark for p in layout.pads if any(point_to_line(p.at, line) <= zone.value for line in lines)]
        if wall.footing_depth is None and near:
            found.append(
                Note(
                    "ask",
                    f'{", ".join(near[:6])} stand within {format_short(zone.value, plan.units)} of "{wall.name}": '
                    "how deep is the house's own footing there?",
                )
            )
    return found
