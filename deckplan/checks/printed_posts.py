"""The printed post heights: a second, prescriptive answer beside the column sum, in the table's own conditions."""

from __future__ import annotations

from deckplan.engineering.prescriptive import printed_post_height
from deckplan.errors import RangeError
from deckplan.layout.model import Kind, Layout, Member, Post
from deckplan.loads.model import Loads
from deckplan.plan.model import Plan
from deckplan.verdict import Check, Source, at_most, not_applicable, outside

PRINTED = Source("AWC DCA6-2012", "Table 4", "one published copy; the order of its columns from memory")
RULE = "printed post height"

# The table's own conditions. Source: AWC DCA6-2012 Table 4, its head and notes.
TABLE_POST = "6x6"
TABLE_GRADE = "no. 2"
TABLE_LIVE, TABLE_DEAD = 40.0, 10.0
TABLE_SPAN = 216.0
LEAST_SPAN = 72.0


def check_printed_height(plan: Plan, post: Post, layout: Layout, loads: Loads) -> Check:
    """Check a post against the printed height for its beam's and joists' spans, where the table speaks of it."""
    area = loads.areas[post.platform]
    if post.size != TABLE_POST or plan.materials.grade.strip().lower() not in (TABLE_GRADE, "no.2", "2"):
        return not_applicable(post.mark, RULE, PRINTED, "the table is for 6x6 posts of No. 2")
    if area.live > TABLE_LIVE or area.snow > 0 or area.dead > TABLE_DEAD + 0.05:
        return not_applicable(
            post.mark, RULE, PRINTED, "the table is for 40 psf live and 10 psf dead load, no snow"
        )
    if len(post.carries) > 1:
        return not_applicable(post.mark, RULE, PRINTED, "the table covers one level; this post carries two")
    beam_span, joist_span = _spans(post, layout, loads)
    if beam_span > TABLE_SPAN or joist_span > TABLE_SPAN:
        return outside(
            post.mark, RULE, PRINTED, f"{post.mark}: the table ends at beam and joist spans of 18 ft"
        )
    try:
        printed = printed_post_height(
            plan.materials.species, max(beam_span, LEAST_SPAN), max(joist_span, LEAST_SPAN)
        )
    except RangeError as error:
        return not_applicable(post.mark, RULE, PRINTED, str(error))
    reason = (
        f"{post.mark} is {post.height:.4g} in high; the table prints {printed.value:g} in for a beam span of "
        f"{beam_span / 12:.3g} ft under joists of {joist_span / 12:.3g} ft"
    )
    return at_most(post.mark, RULE, PRINTED, post.height, printed.value, "in", printed.steps, reason=reason)


def _spans(post: Post, layout: Layout, loads: Loads) -> tuple[float, float]:
    """Return the longest beam span beside a post and the longest joist span on those beams [in]."""
    beam_span = joist_span = 0.0
    for delivery in loads.onto.get(post.mark, ()):
        beam = layout.by_mark[delivery.upper]
        if not isinstance(beam, Member) or beam.kind is not Kind.BEAM:
            continue
        analysis = loads.demands[beam.mark].analysis
        beside = [
            b - a
            for a, b in zip(analysis.supports, analysis.supports[1:], strict=False)
            if a - 1e-3 <= delivery.at <= b + 1e-3
        ]
        beam_span = max([beam_span, *beside])
        for above in loads.onto.get(beam.mark, ()):
            if above.upper in loads.demands:  # a post that stands on the beam has no span
                joist_span = max(joist_span, *loads.demands[above.upper].analysis.spans)
    return beam_span, joist_span
