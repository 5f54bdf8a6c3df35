"""What the layout stage gives: every piece of the frame with its mark, place and what it bears on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from math import dist
from typing import Literal

from deckplan.geometry import Line, Point, along
from deckplan.verdict import Check

Manner = Literal["bearing", "hanger", "ledger", "cap", "splice", "notch", "nailed"]


class Kind(StrEnum):
    """What a member is."""

    JOIST = "joist"
    RIM = "rim"
    BEAM = "beam"
    LEDGER = "ledger"
    BLOCKING = "blocking"
    HEADER = "header"
    STRINGER = "stringer"
    TREAD = "tread"
    STEP = "step frame"
    BRACE = "brace"
    BOARD = "board"
    POST = "post"


@dataclass(frozen=True, slots=True)
class Bearing:
    """Where a member rests: distance along it [in], on which mark, in what manner, over what length [in].

    skew: angle by which it meets that off square, to one side or to the other [degrees].
    """

    at: float
    on: str
    manner: Manner
    length: float
    skew: float = 0.0


@dataclass(frozen=True, slots=True)
class Strip:
    """Area that a member carries: a stretch along it [in] and the width of surface over that stretch [in]."""

    start: float
    end: float
    width: float


@dataclass(frozen=True, slots=True)
class Member:
    """A piece that runs in plan.

    start, end: ends of its centre line [in]; top: elevation of its upper edge at the start [in]; width, depth: dressed
    size over all plies [in]; strips: the surface that it
    carries directly; top_end: elevation of the upper edge at the end, where that differs (stringers); cuts: of a beam,
    angles off square at its start and end [degrees], where an edge or another beam ends it (`layout.ends`).
    """

    mark: str
    platform: str
    kind: Kind
    size: str
    start: Point
    end: Point
    top: float
    width: float
    depth: float
    bearings: tuple[Bearing, ...] = ()
    strips: tuple[Strip, ...] = ()
    drop: float = 0.0
    support: int | None = None
    cuts: tuple[float, float] = (0.0, 0.0)

    @property
    def length(self) -> float:
        """Length in plan along the centre line [in]."""
        return dist(self.start, self.end)

    @property
    def line(self) -> Line:
        """The centre line in plan [in]."""
        return (self.start, self.end)

    @property
    def bottom(self) -> float:
        """Elevation of the lower edge at the start [in]."""
        return self.top - self.depth

    def point(self, at: float) -> Point:
        """Return the point at a distance [in] from the start."""
        return along((self.start, self.end), at / self.length if self.length else 0.0)


@dataclass(frozen=True, slots=True)
class Notch:
    """A post head notched for a beam: what is cut away across the beam [in] and how far the tongue rises above it [in].

    way: unit vector in plan from the beam towards the tongue.
    """

    depth: float
    rise: float
    way: Point


@dataclass(frozen=True, slots=True)
class Post:
    """A post: place of its axis in plan [in], elevations of its ends where it bears and is borne [in], whom it carries.

    footing: mark of its footing, empty where it stands on a lower platform's frame; stands_on: the member of that
    frame, empty where it has a footing; notch: how its head is notched, None for one cut off square under a cap;
    way: unit vector in plan along its beam, to which two of its sides lie parallel.
    """

    mark: str
    platform: str
    at: Point
    size: str
    width: float
    top: float
    bottom: float
    carries: tuple[str, ...]
    footing: str
    stands_on: str = ""
    notch: Notch | None = None
    way: Point = (1.0, 0.0)

    @property
    def height(self) -> float:
        """Height [in], top of the footing (or of the frame below) to the underside of the beam."""
        return self.top - self.bottom

    @property
    def length(self) -> float:
        """Length of the piece [in]: its height, and the tongue that rises beside the beam."""
        return self.height if self.notch is None else self.height + self.notch.rise

    @property
    def tongue(self) -> float:
        """Thickness of the tongue that a notch leaves [in]; nothing without a notch."""
        return 0.0 if self.notch is None else self.width - self.notch.depth

    @property
    def off_axis(self) -> float:
        """How far its beam's middle stands off its axis [in]."""
        return self.tongue / 2


@dataclass(frozen=True, slots=True)
class Pad:
    """Where a footing stands: place [in], elevation of its top and of its bottom [in]."""

    mark: str
    at: Point
    top: float
    bottom: float


@dataclass(frozen=True, slots=True)
class GuardStretch:
    """A stretch of a platform's edge [in]: the largest drop within the look-out distance [in] and what it asks for.

    opening: number of the opening that it runs along, from 1; nil along the outer edge.
    """

    platform: str
    start: Point
    end: Point
    drop: float
    required: bool
    reason: str
    opening: int = 0

    @property
    def length(self) -> float:
        """Length of the stretch [in]."""
        return dist(self.start, self.end)


def numbered_guards(guards: Sequence[GuardStretch]) -> tuple[tuple[str, GuardStretch], ...]:
    """Return the stretches that ask for a guard, with their marks: G1, G2 and so on."""
    needed = [guard for guard in guards if guard.required and guard.length >= 1.0]
    return tuple((f"G{number}", guard) for number, guard in enumerate(needed, start=1))


@dataclass(frozen=True, slots=True)
class GuardPostPlace:
    """One guard post: its place in plan [in], the blocking that holds it, the force on its connector [lb].

    against: mark of the joist that it stands against, empty where it stands between two pieces of blocking;
    connector [lb]: required capacity of the upper connector when a person leans on the rail.
    """

    mark: str
    platform: str
    at: Point
    against: str
    blocking: tuple[str, ...]
    connector: float


@dataclass(frozen=True, slots=True)
class OnFrame:
    """What came of a post's wish to stand on a lower platform's frame: its foot, or why it goes to the ground.

    lower: that platform; on: the member of it that carries the post, empty where none does; reason: why none does.
    """

    platform: str
    beam: str
    post: str
    lower: str
    on: str
    reason: str


MissKind = Literal["none", "wide", "aside", "back", "past", "low", "notched", "ground", "splice"]


@dataclass(frozen=True, slots=True)
class Miss:
    """What keeps a beam's end off a neighbour's post.

    post: the nearest, empty where the neighbour has none; by [in]: how far aside, back, too low, too wide; end: the
    beam's end in plan [in]; outward: unit vector from there away from the beam; far [in]: from there to the post.
    """

    kind: MissKind
    post: str
    by: float
    end: Point
    outward: Point
    far: float


@dataclass(frozen=True, slots=True)
class Sharing:
    """What came of a beam line's wish to hang on a neighbour's posts: one for each end that hangs, else one in all.

    support: place of the line among its platform's supports; beam: the piece that hangs, or the one that comes nearest;
    post: the post's mark, empty where none is shared; reason: why not and what would help; miss: the same in figures.
    """

    platform: str
    beam: str
    neighbour: str
    post: str
    reason: str
    support: int
    miss: Miss | None = None


@dataclass(frozen=True)
class Layout:
    """The frame of every platform and flight."""

    members: tuple[Member, ...]
    posts: tuple[Post, ...]
    pads: tuple[Pad, ...]
    guards: tuple[GuardStretch, ...]
    guard_posts: tuple[GuardPostPlace, ...] = ()
    sharing: tuple[Sharing, ...] = ()
    on_frame: tuple[OnFrame, ...] = ()
    checks: tuple[Check, ...] = ()

    @cached_property
    def by_mark(self) -> dict[str, Member | Post | Pad]:
        """Every part under its mark."""
        parts: tuple[Member | Post | Pad, ...] = (*self.members, *self.posts, *self.pads)
        return {part.mark: part for part in parts}

    @cached_property
    def _by_platform(self) -> dict[str, list[Member]]:
        found: dict[str, list[Member]] = {}
        for member in self.members:
            found.setdefault(member.platform, []).append(member)
        return found

    def of(self, platform: str, *kinds: Kind) -> tuple[Member, ...]:
        """Return a platform's members of the given kinds, or all of them where none is given."""
        own = self._by_platform.get(platform, ())
        return tuple([m for m in own if not kinds or m.kind in kinds])
