"""The panel of framing: joists, supports, posts, and how hard each is used."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from deckplan.engineering.lumber import read_size, size_names
from deckplan.geometry import area
from deckplan.layout.frame import joist_direction
from deckplan.layout.model import Kind, Member
from deckplan.layout.over import overlapping
from deckplan.panels.fields import Field, FieldsPanel, slide
from deckplan.panels.session import Session
from deckplan.plan.model import BeamLine, Ledger, Platform
from deckplan.study import Study
from deckplan.tabulate import letter_of
from deckplan.units import Units, format_short, write_length

_AUTO = ("auto", "auto: smallest")
_BUILDS = ("2-2x6", "2-2x8", "2-2x10", "2-2x12", "3-2x8", "3-2x10", "3-2x12", "4x8", "4x10", "4x12")
_DIRECTIONS = (("y", "away from house"), ("x", "along the house"))
_STYLES = (("drop", "under the joists"), ("flush", "between the joists"))
_SEATS = (("cap", "on post caps"), ("notch", "in notches of the posts"))
_FASTENERS = (("1/2 lag", "1/2 in lag screws"), ("1/2 bolt", "1/2 in bolts"))


class FramingPanel(FieldsPanel):
    """Joists and supports, platform by platform."""

    def __init__(self, session: Session) -> None:
        """Bind the panel to a session."""
        super().__init__(session, "Framing")

    def fields_of(self, study: Study) -> Sequence[Field]:
        """Return the fields of every platform: joists first, then each support."""
        found: list[Field] = []
        for number, platform in enumerate(study.asked.platforms):
            mark = letter_of(study, platform.name)
            group = f"{mark}  {platform.name}"
            made = (*_joists(study, platform), *_supports(study, platform))
            found += [replace(field, group=group, open=number == 0) for field in made]
        return found


def _used(study: Study, marks: Sequence[str]) -> str:
    shares = [share for mark in marks if (share := study.utilisation(mark)) is not None]
    return f", used {max(shares):.0%}" if shares else ""


def _joists(study: Study, platform: Platform) -> Iterator[Field]:
    name, units = platform.name, study.asked.units
    place = f"platform.{name}.joists"
    joists = study.layout.of(name, Kind.JOIST)
    sizes = [size for size in size_names() if not read_size(size).is_timber and size.startswith("2x")]
    said = f"{len(joists)} joists {study.plan.platform(name).joists.size}"
    said += _used(study, [joist.mark for joist in joists])
    yield _field(f"{place}.size", "joist size", name, "choice", said, (_AUTO, *((s, s) for s in sizes)))
    spacings = tuple((text, text) for text in _spacings(units))
    yield _field(f"{place}.spacing", "joist spacing, on centre", name, "choice", "", spacings)
    yield _field(f"{place}.direction", "joists run", name, "choice", "", _DIRECTIONS)
    place = f"platform.{name}.boards"
    said = "auto, how many, or where across the joists; 0: seams that change place"
    yield _field(f"{place}.breaker", "breaker boards", name, "text", said, ())
    yield _field(f"{place}.first", "first row of boards", name, "text", "whole, or as wide as this", ())


def _spacings(units: Units) -> list[str]:
    if units == "us":
        return [write_length(inches, units) for inches in (12.0, 16.0, 24.0)]
    return [write_length(mm / 25.4, units) for mm in (300, 400, 600)]


def _supports(study: Study, platform: Platform) -> Iterator[Field]:
    name = platform.name
    for number, support in enumerate(platform.supports, start=1):
        place = f"platform.{name}.support.{number}"
        if isinstance(support, Ledger):
            said = f"on {support.wall}" + _used(study, [m.mark for m in study.layout.of(name, Kind.LEDGER)])
            yield _field(f"{place}.fastener", "ledger held by", name, "choice", said, _FASTENERS)
        elif isinstance(support, BeamLine):
            beams = [m for m in study.layout.of(name, Kind.BEAM) if m.support == number - 1]
            yield from _beam(study, platform, support, beams, f"line {number}", place)
        else:
            others = tuple((other, other) for other in _others(study, name))
            yield _field(
                f"{place}.on", "joists hang on", name, "choice", "the beam along the shared edge", others
            )


def _others(study: Study, name: str) -> list[str]:
    return [platform.name for platform in study.asked.platforms if platform.name != name]


def _first_edge(platform: Platform) -> str:
    """Say from which edge a beam's offset counts: the platform's lowest coordinate along its joists."""
    x, y = joist_direction(platform)
    if abs(x) < 1e-6:
        return "nearest the house"
    return "on the left" if abs(y) < 1e-6 else "where the joists begin"


def _beam(
    study: Study, platform: Platform, line: BeamLine, beams: Sequence[Member], spare: str, place: str
) -> Iterator[Field]:
    """Yield the fields of one line of posts; spare: what it is called where no beam came of it."""
    name, units = platform.name, study.asked.units
    marks = [beam.mark for beam in beams]
    called = " and ".join(marks) or spare
    if line.offset is None:
        yield _field(f"{place}.line", f"{called} runs through", name, "text", "two points of the plan", ())
    else:
        yield Field(f"{place}.offset", f"{called} stands at", f"offset of beam {called} of {name}",
                    follows=f"along the joists, from the edge {_first_edge(platform)}",
                    **slide(units, line.offset, 0.0, _reach(platform)))  # fmt: skip
    builds = (_AUTO, *((build, build) for build in _BUILDS))
    said = (beams[0].size if beams else "not laid out") + _used(study, marks)
    yield _field(f"{place}.build", f"{called}, built of", name, "choice", said, builds)
    under = {bearing.on for beam in beams for bearing in beam.bearings}
    heights = [post.height for post in study.layout.posts if post.mark in under]
    said = f"{len(heights)} posts"
    if heights:
        low, high = format_short(min(heights), units), format_short(max(heights), units)
        said += f", {low if low == high else f'{low} to {high}'} high"
    yield _field(f"{place}.posts", f"posts under {called}", name, "text", said, ())
    tongues = [post.tongue for post in study.layout.posts if post.mark in under and post.notch is not None]
    said = f"a tongue of {format_short(min(tongues), units)} is left" if tongues else ""
    yield _field(f"{place}.seat", f"{called} sits", name, "choice", said, _SEATS)
    yield _field(f"{place}.style", f"{called}, height", name, "choice", "", _STYLES)
    if others := _others(study, name):
        shares = (("", "its own posts"), *((other, f"also a post of {other}") for other in others))
        yield _field(
            f"{place}.shares_posts_with",
            f"posts of {called} are",
            name,
            "choice",
            _shared(study, marks),
            shares,
        )
        pads = (
            ("", "footings of its own"),
            *((other, f"one footing with a post of {other}") for other in others),
        )
        said = _one_pad(study, marks)
        yield _field(
            f"{place}.shares_footings_with", f"posts under {called} share", name, "choice", said, pads
        )
    if (below := _below(study, platform)) or line.stands_on:
        feet = (("", "footings in the ground"), *((lower, f"the frame of {lower}") for lower in below))
        yield _field(
            f"{place}.stands_on",
            f"posts under {called} stand on",
            name,
            "choice",
            _on_frame(study, marks),
            feet,
        )


def _below(study: Study, platform: Platform) -> list[str]:
    """Return the lower platforms that lie under this one, whose frames could carry its posts."""
    levels = study.levels
    return [
        lower.name
        for lower, upper, _ in overlapping(study.asked, levels)
        if upper.name == platform.name and levels.elevation(lower.name) < levels.elevation(upper.name)
    ]


def _on_frame(study: Study, marks: Sequence[str]) -> str:
    """Say what came of a wish to stand on a lower frame."""
    wishes = [one for one in study.layout.on_frame if one.beam in marks]
    on = [f"{one.post} on {one.on}" for one in wishes if one.on]
    why = list(dict.fromkeys(one.reason for one in wishes if not one.on))
    return "; ".join([*on, *why])


def _shared(study: Study, marks: Sequence[str]) -> str:
    """Say what came of a wish to hang on a neighbour's post."""
    wishes = [one for one in study.layout.sharing if one.beam in marks]
    return "; ".join(f"on {one.post} of {one.neighbour}" if one.post else one.reason for one in wishes)


def _one_pad(study: Study, marks: Sequence[str]) -> str:
    """Say which of a line's posts stand on one footing with a neighbour's."""
    under = {
        b.on for mark in marks if isinstance(m := study.layout.by_mark[mark], Member) for b in m.bearings
    }
    shared = [(foot, post) for foot in study.footings for post in foot.posts if foot.also and post in under]
    return "; ".join(f"{post} on {foot.mark}" for foot, post in shared)


def _reach(platform: Platform) -> float:
    """Return how far a beam may stand from the lowest edge [in]: the platform's size along its joists."""
    xs, ys = zip(*platform.outline, strict=True)
    wide, deep = max(xs) - min(xs), max(ys) - min(ys)
    if platform.joists.direction == "x":
        return float(wide)
    if platform.joists.direction == "y":
        return float(deep)
    return float(abs(area(platform.outline)) / min(wide, deep))


def _field(
    place: str, label: str, platform: str, kind: str, said: str, choices: tuple[tuple[str, str], ...]
) -> Field:  # fmt: skip
    return Field(place, label, f"{label} of {platform}", kind=kind, follows=said, choices=choices)
