"""Post heads notched for a beam: how much is cut away, on which side the tongue stands, what gets in its way.

::

     joists over it (drop)         floor: the beam bears on it in its full width
     ___________________           depth: what is cut away, the beam's width
       |beam | |tongue             tongue: what is left standing; the beam leans on it, two bolts hold it there
       |     | |                   e: how far the beam's middle stands off the post's axis
       |_____| |
       |<depth>|        e = (post - depth) / 2
       |  :  ' |
          :  axis of the post
       axis of the beam
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from deckplan.geometry import Point
from deckplan.layout.frame import ON_LINE, Run
from deckplan.layout.model import Kind, Member, Notch, Post
from deckplan.layout.platform_frame import SetOut
from deckplan.layout.supports import BeamStretch
from deckplan.units import Units, format_short
from deckplan.verdict import Check, Source, at_most

CLEAR = "tongue of the notch stands clear"
GEOMETRY = Source("Geometry", "a tongue as high as the beam, joists hung on its face", "derived")


def notch_for(
    set_out: SetOut, stretch: BeamStretch, beam: Member, along_beam: float, width: float
) -> Notch | None:
    """Return the notch that a post so wide [in] gets under a beam at a place along it [in]; None where none is asked.

    The tongue rises to the beam's top and stands on the side of the platform's middle, so that the post stays under
    the platform; beside a flush beam on the other side, where the joists that hang there leave room for it only there.
    """
    if stretch.line.seat != "notch":
        return None
    middle = stretch.run.at((stretch.reach[0] + stretch.reach[1]) / 2)
    inner = 1.0 if middle <= set_out.frame.depth / 2 else -1.0
    turns = (inner, -inner) if stretch.line.style == "flush" else (inner,)
    made = [_notch(set_out, stretch.run, beam, width, turn) for turn in turns]
    clear = (
        notch
        for notch in made
        if not any(in_the_way(set_out, stretch, beam, along_beam, width, notch, set_out.members))
    )
    return next(clear, made[0])


def _notch(set_out: SetOut, run: Run, beam: Member, width: float, turn: float) -> Notch:
    """Notch a post for a beam on a run, its tongue square to the beam, towards higher v where turn is 1."""
    (ax, ay), (bx, by) = set_out.frame.along, set_out.frame.across
    share, side = turn / run.secant, -turn * run.slope / run.secant
    return Notch(
        min(beam.width, width), beam.depth, (ax * share + bx * side + 0.0, ay * share + by * side + 0.0)
    )


def seat_place(beam: Member, along_beam: float, width: float, notch: Notch | None) -> Point:
    """Return where the axis of a post so wide [in] stands under a beam: under its middle, or off it for a notch."""
    x, y = beam.point(along_beam)
    if notch is None:
        return (x, y)
    off = (width - notch.depth) / 2
    return (x + notch.way[0] * off, y + notch.way[1] * off)


def in_the_way(
    set_out: SetOut,
    stretch: BeamStretch,
    beam: Member,
    along_beam: float,
    width: float,
    notch: Notch,
    members: Iterable[Member],
) -> Iterator[str]:
    """Yield what stands where a flush beam's tongue would: the open edge, or the marks of joists that hang there.

    members: whose joists are looked at, the platform's own or a neighbour's as well.
    """
    if stretch.line.style != "flush":
        return
    frame = set_out.frame
    x, y = seat_place(beam, along_beam, width, notch)
    u, outer = frame.local((x + notch.way[0] * width / 2, y + notch.way[1] * width / 2))
    if not any(
        low - ON_LINE <= outer <= high + ON_LINE for low, high in frame.along_at(_inside(frame.width, u))
    ):
        yield "the edge"
    # beside a beam at an angle the tongue's corners reach farther across the joists
    half = width / 2 * (1.0 + abs(stretch.run.slope)) / stretch.run.secant
    for joist in set_out.members:
        if joist.kind is not Kind.JOIST or not any(b.on == beam.mark for b in joist.bearings):
            continue
        there, start = frame.local(joist.start)
        if (
            abs(there - u) < half + joist.width / 2 - ON_LINE
            and start - ON_LINE <= outer <= start + joist.length
        ):
            yield joist.mark


def check_tongues(
    platforms: tuple[SetOut, ...], beams: Mapping[str, Member], posts: tuple[Post, ...], units: Units
) -> Iterator[Check]:
    """Check at every notched post under a flush beam that nothing stands where its tongue does.

    beams: as they stand on their posts, by mark. Under a drop beam the joists pass over the tongue.
    """
    by_mark = {post.mark: post for post in posts}
    members = [member for set_out in platforms for member in set_out.members]
    for set_out in platforms:
        for stretch, begun in set_out.beams:
            if stretch.line.seat != "notch" or stretch.line.style != "flush":
                continue
            for bearing in beams[begun.mark].bearings:
                post = by_mark.get(bearing.on)  # none where it hangs on another beam
                if post is None or post.notch is None or bearing.manner == "hanger":
                    continue
                width, notch = post.width, post.notch
                found = list(in_the_way(set_out, stretch, begun, bearing.at, width, notch, members))
                yield at_most(
                    post.mark, CLEAR, GEOMETRY, float(len(found)), 0.0, "pieces",
                    reason=_in_the_way(post, begun, found, units),
                )  # fmt: skip


def _in_the_way(post: Post, beam: Member, found: list[str], units: Units) -> str:
    """Say what stands in a tongue's place, and what would help."""
    thick = format_short(post.tongue, units)
    what = [
        f"it would stand {thick} beyond the platform's edge" if each == "the edge" else f"{each} hangs there"
        for each in found
    ]
    lead = f"{post.mark} cannot have its tongue beside {beam.mark}: {' and '.join(what)}"
    return f"{lead}: a post cap, a drop beam, or a post between the joists"


def _inside(width: float, u: float) -> float:
    """Keep a place off the very ends, where a line along the joists runs on the outline itself."""
    return min(max(u, 1e-3), width - 1e-3)
