"""The plan: what a person decides, and nothing that follows from it.

Every length is a float in inches, every load psf, every name as the person wrote it. A plan is frozen and
compares by value; a change makes a new one.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, ValidationInfo

from deckplan.units import EXPECTED_LENGTH, Units, read_length, read_quantity


def _length(value: object, info: ValidationInfo) -> object:
    """Read a length: text anywhere; a bare number [in] only from code, since in a file it would be a guess."""
    if isinstance(value, str):
        return read_length(value)
    from_file = bool(info.context and info.context.get("file"))
    if isinstance(value, bool) or not isinstance(value, (int, float)) or from_file:
        raise ValueError(f"{EXPECTED_LENGTH}, in quotes")
    return float(value)


def _area_load(value: object, info: ValidationInfo) -> object:
    if isinstance(value, str):
        return read_quantity(value, "psf")
    from_file = bool(info.context and info.context.get("file"))
    if isinstance(value, bool) or not isinstance(value, (int, float)) or from_file:
        raise ValueError('a number and a unit in quotes, such as "40 psf" or "2 kPa"')
    return float(value)


# The widest site this format is meant for: a slipped decimal or unit shows here and not as an endless drawing.
FARTHEST = 12_000.0
"""Largest coordinate or size that a plan may hold [in], 1,000 ft."""

Length = Annotated[float, BeforeValidator(_length), Field(ge=-FARTHEST, le=FARTHEST, allow_inf_nan=False)]
Size = Annotated[float, BeforeValidator(_length), Field(gt=0, le=FARTHEST, allow_inf_nan=False)]
Clearance = Annotated[float, BeforeValidator(_length), Field(ge=0, le=FARTHEST, allow_inf_nan=False)]
AreaLoad = Annotated[float, BeforeValidator(_area_load), Field(ge=0, le=100_000, allow_inf_nan=False)]
Point = tuple[Length, Length]
Auto = Literal["auto"]


class Part(BaseModel):
    """Base of every table of the plan file: frozen, closed to keys that mean nothing."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, str_strip_whitespace=True)


class SpotElevation(Part):
    """One measured height of the ground: where, and how high above the benchmark [in]."""

    at: Point
    elevation: Length


class BoundaryLine(Part):
    """A line to keep away from: its kind, its corners [in] and the clearance asked [in]."""

    kind: Literal["property", "easement", "septic", "utility"]
    line: Annotated[tuple[Point, ...], Field(min_length=2)]
    setback: Clearance = 0.0


class Site(Part):
    """Soil, frost, loads and ground. An empty `ground` means: nobody measured, level at 0 is assumed."""

    soil_bearing: Annotated[float, BeforeValidator(_area_load), Field(gt=0, le=100_000)] = 1500.0
    frost_depth: Clearance = 0.0
    live_load: AreaLoad | None = None
    snow_load: AreaLoad = 0.0
    ground: tuple[SpotElevation, ...] = ()
    boundary: tuple[BoundaryLine, ...] = ()


class Wall(Part):
    """A house wall [in]; ledger: it may carry one; footing_depth: how deep the house's own footing lies."""

    name: str = Field(min_length=1)
    line: Annotated[tuple[Point, ...], Field(min_length=2)]
    ledger: bool = False
    footing_depth: Clearance | None = None


class Door(Part):
    """A house door: middle of the threshold [in], clear width [in], elevation of the threshold [in]."""

    name: str = Field(min_length=1)
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
    thickness: Size = 1.0
    width: Size = 5.5
    gap: Clearance = 0.125
    spacing: Size = 16.0
    spacing_diagonal: Size = 12.0
    spacing_step: Size = 12.0
    weight: AreaLoad | None = None


class Fascia(Part):
    """The board that covers a rim or a riser; thickness [in]."""

    thickness: Size = 0.75


class Materials(Part):
    """Lumber by species and grade, treatment, post size, boards."""

    species: str = "southern pine"
    grade: str = "No. 2"
    incised: bool = False
    post: str = "6x6"
    decking: Decking = Decking()
    fascia: Fascia = Fascia()


class ElevationRange(Part):
    """A wish: the finished surface lies between lowest and highest [in]; the solver chooses."""

    lowest: Length = Field(alias="from")
    highest: Length = Field(alias="to")


class Joists(Part):
    """Joists: direction "x", "y" or degrees from the x axis; size or "auto"; spacing centre to centre [in]."""

    direction: Literal["x", "y"] | float = "y"
    size: str = "auto"
    spacing: Size = 16.0


class Boards(Part):
    """Boards: angle [degrees] from square across the joists, and how many border boards run round the edge."""

    angle: Annotated[float, Field(ge=-90, le=90)] = 0.0
    border: Annotated[int, Field(ge=0, le=3)] = 0


class Ledger(Part):
    """A support on a house wall; fastener: kind of the fasteners into the house's band joist."""

    kind: Literal["ledger"]
    wall: str
    fastener: Literal["1/2 lag", "1/2 bolt"] = "1/2 lag"


class BeamLine(Part):
    """A line of posts with a beam. offset: along the joists from the platform's lowest coordinate there [in]."""

    kind: Literal["beam"]
    offset: Length
    style: Literal["drop", "flush"] = "drop"
    build: str = "auto"
    posts: Auto | Annotated[int, Field(ge=1, le=60)] | Annotated[tuple[Length, ...], Field(min_length=1)] = "auto"
    shares_posts_with: str = ""


Support = Annotated[Ledger | BeamLine, Field(discriminator="kind")]


class Platform(Part):
    """One framed surface: its outline [in] is the outer face of its rims, fascia not counted."""

    name: str = Field(min_length=1)
    use: str = ""
    people: Annotated[int, Field(ge=0, le=10_000)] = 0
    outline: Annotated[tuple[Point, ...], Field(min_length=3)]
    elevation: Length | ElevationRange
    joists: Joists = Joists()
    boards: Boards = Boards()
    supports: tuple[Support, ...] = Field(default=(), alias="support")


class Flight(Part):
    """An unbroken series of risers between two levels; `along`: where it leaves the upper edge [in]."""

    upper: str = Field(alias="from", min_length=1)
    lower: str = Field(alias="to", min_length=1)
    along: tuple[Point, Point] | None = None
    kind: Literal["auto", "direct", "box", "stringer"] = "auto"
    tread: Size = 11.0


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

    def door(self, name: str) -> Door | None:
        """Return the door of that name, or None."""
        return next((door for door in self.house.doors if door.name == name), None)

    def wall(self, name: str) -> Wall | None:
        """Return the wall of that name, or None."""
        return next((wall for wall in self.house.walls if wall.name == name), None)
