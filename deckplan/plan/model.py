"""The plan: what a person decides, and nothing that follows from it.

Every length is a float in inches, every load psf, every name as the person wrote it. A plan is frozen and
compares by value; a change makes a new one.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Discriminator, Field, Tag, ValidationInfo

from deckplan.plan.board_fields import Breakers, FirstRow
from deckplan.plan.fields import (
    FARTHEST,
    Angle,
    AreaLoad,
    Auto,
    BeamEnds,
    Bearing,
    BoardThickness,
    BoardWidth,
    BorderCount,
    Build,
    Clearance,
    Direction,
    FastenerSpacing,
    Gap,
    JoistSize,
    JoistStart,
    Length,
    Name,
    Outline,
    People,
    Point,
    PolyLine,
    PostPlaces,
    PostSize,
    Size,
    Spacing,
    Stretch,
    Tread,
    WrongValueError,
    YesNo,
)
from deckplan.units import Units

__all__ = ["FARTHEST", "Auto", "Part", "Plan", "Point"]


class Part(BaseModel):
    """Base of every table of the plan file: frozen, closed to keys that mean nothing."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, str_strip_whitespace=True)


class SpotElevation(Part):
    """One measured height of the ground: where, and how high above the benchmark [in]."""

    at: Point
    elevation: Length


class SetbackByHeight(Part):
    """A clearance [in] that counts in place of the line's own for a level more than `over` [in] above the ground."""

    over: Clearance
    setback: Clearance


class BoundaryLine(Part):
    """A line to keep away from: its kind, its corners [in] and the clearance asked [in], by a level's height or not."""

    kind: Literal["property", "easement", "septic", "utility"]
    line: PolyLine
    setback: Clearance = 0.0
    by_height: tuple[SetbackByHeight, ...] = ()


class Site(Part):
    """Soil, frost, loads and ground. An empty `ground` means: nobody measured, level at 0 is assumed."""

    soil_bearing: Bearing = 1500.0
    frost_depth: Clearance = 0.0
    live_load: AreaLoad | None = None
    snow_load: AreaLoad = 0.0
    ground: tuple[SpotElevation, ...] = ()
    boundary: tuple[BoundaryLine, ...] = ()


class Wall(Part):
    """A house wall [in]; ledger: it may carry one; footing_depth: how deep the house's own footing lies."""

    name: Name
    line: PolyLine
    ledger: YesNo = False
    footing_depth: Clearance | None = None


class Door(Part):
    """A house door: middle of the threshold [in], clear width [in], elevation of the threshold [in]."""

    name: Name
    at: Point
    width: Size = 36.0
    sill: Length


class House(Part):
    """What the deck meets: walls and doors."""

    walls: tuple[Wall, ...] = Field(default=(), alias="wall")
    doors: tuple[Door, ...] = Field(default=(), alias="door")


class Decking(Part):
    """The boards: real sizes [in] and the joist spacings that their maker allows [in]."""

    kind: Literal["composite", "wood"] = "wood"
    thickness: BoardThickness = 1.0
    width: BoardWidth = 5.5
    gap: Gap = 0.125
    spacing: Spacing = 16.0
    spacing_diagonal: Spacing = 12.0
    spacing_step: Spacing = 12.0
    weight: AreaLoad | None = None


class Fascia(Part):
    """The board that covers a rim or a riser; thickness [in]."""

    thickness: BoardThickness = 0.75


class Materials(Part):
    """Lumber by species and grade, treatment, post size, boards."""

    species: str = "southern pine"
    grade: str = "No. 2"
    incised: YesNo = False
    post: PostSize = "6x6"
    decking: Decking = Decking()
    fascia: Fascia = Fascia()


class ElevationRange(Part):
    """A wish: the finished surface lies between lowest and highest [in]; the solver chooses."""

    lowest: Length = Field(alias="from")
    highest: Length = Field(alias="to")


def _right_way_up(wish: ElevationRange, info: ValidationInfo) -> ElevationRange:
    if wish.lowest > wish.highest:
        typed = info.context and info.context.get("typed")
        written = ", such as 28 in to 31 in" if typed else ", { from = lowest, to = highest }"
        raise WrongValueError(f"a range from low to high{written}")
    return wish


def _elevation_kind(value: object) -> str:
    return "range" if isinstance(value, (dict, ElevationRange)) else "height"


Elevation = Annotated[
    Annotated[Length, Tag("height")] | Annotated[ElevationRange, AfterValidator(_right_way_up), Tag("range")],
    Discriminator(_elevation_kind),
]


class Joists(Part):
    """Joists: direction "x", "y" or degrees from the x axis; size or "auto"; spacing on centre [in].

    start: where the marks on centre begin, from the lower edge across the joists [in]; "auto" lines them up with a
    neighbour's joists where two levels meet end to end.
    """

    direction: Direction = "y"
    size: JoistSize = "auto"
    spacing: Spacing = 16.0
    start: JoistStart = "auto"


class Boards(Part):
    """Boards: angle [degrees] from square across the joists, how many border boards run round the edge.

    breaker: where boards end at a board across them: "auto" as few as stock asks for, a count (0: seams that change
    place from row to row instead), or where the middle of each lies, as `joists.start` is measured [in]; first: width
    of the row where laying starts [in], or "whole".
    """

    angle: Angle = 0.0
    border: BorderCount = 0
    breaker: Breakers = "auto"
    first: FirstRow = "whole"


class Ledger(Part):
    """A support on a house wall.

    fastener: kind of the fasteners into the house's band joist; spacing: of those, on centre [in], or "auto".
    """

    kind: Literal["ledger"]
    wall: Name
    fastener: Literal["1/2 lag", "1/2 bolt"] = "1/2 lag"
    spacing: FastenerSpacing = "auto"


class BeamLine(Part):
    """A line of posts with a beam, square to the joists at an offset, or at an angle along a line: one of the two.

    offset: along the joists from the platform's lowest coordinate [in]; line: two points of the plan [in] that it goes
    through; it reaches on to the outline, or to an earlier beam that it meets.
    seat: how a post takes the beam, on a cap or in a notch cut into its head; shares_posts_with: the platform on whose
    posts its ends hang; stands_on: the lower platform whose frame carries those of its posts that stand over it;
    shares_footings_with: the platform beside whose posts its own stand on one footing.
    """

    kind: Literal["beam"]
    offset: Length | None = None
    line: BeamEnds | None = None
    style: Literal["drop", "flush"] = "drop"
    build: Build = "auto"
    posts: PostPlaces = "auto"
    seat: Literal["cap", "notch"] = "cap"
    shares_posts_with: str = ""
    stands_on: str = ""
    shares_footings_with: str = ""

    @property
    def set_at(self) -> float:
        """Its offset [in]; raises ValueError for a line given by two points."""
        if self.offset is None:
            raise ValueError("a beam along a line has no offset")
        return self.offset


class Hung(Part):
    """Joists that hang on the beam of a neighbouring platform along the edge that both share."""

    kind: Literal["hung"]
    on: Name


Support = Annotated[Ledger | BeamLine | Hung, Field(discriminator="kind")]


class Opening(Part):
    """A hole in a platform, for a tree, a hatch or a well; framed as the rectangle round its outline [in]."""

    kind: str = "opening"
    outline: Outline


class Platform(Part):
    """One framed surface: its outline [in] is the outer face of its rims, fascia not counted."""

    name: Name
    use: str = ""
    people: People = 0
    outline: Outline
    elevation: Elevation
    joists: Joists = Joists()
    boards: Boards = Boards()
    supports: tuple[Support, ...] = Field(default=(), alias="support")
    openings: tuple[Opening, ...] = Field(default=(), alias="opening")


class Flight(Part):
    """An unbroken series of risers between two levels; `along`: where it leaves the upper edge [in]."""

    upper: Name = Field(alias="from")
    lower: Name = Field(alias="to")
    along: Stretch | None = None
    kind: Literal["auto", "direct", "box", "stringer"] = "auto"
    tread: Tread = 11.0


class Plan(Part):
    """Everything that a person decides about one deck."""

    format: Literal[1] = 1
    name: str = "untitled"
    rules: str = "irc-2021"
    units: Units = "us"
    site: Site = Site()
    house: House = House()
    materials: Materials = Materials()
    platforms: tuple[Platform, ...] = Field(default=(), alias="platform")
    flights: tuple[Flight, ...] = Field(default=(), alias="flight")

    def platform(self, name: str) -> Platform:
        """Return the platform of that name; raises KeyError where there is none."""
        for platform in self.platforms:
            if platform.name == name:
                return platform
        raise KeyError(name)

    def with_supports(self, name: str, supports: Sequence[Ledger | BeamLine | Hung]) -> Plan:
        """Return the plan with one platform's supports replaced."""
        changed = self.platform(name).model_copy(update={"supports": tuple(supports)})
        platforms = tuple(changed if one.name == name else one for one in self.platforms)
        return self.model_copy(update={"platforms": platforms})

    def door(self, name: str) -> Door | None:
        """Return the door of that name, or None."""
        return next((door for door in self.house.doors if door.name == name), None)

    def wall(self, name: str) -> Wall | None:
        """Return the wall of that name, or None."""
        return next((wall for wall in self.house.walls if wall.name == name), None)
