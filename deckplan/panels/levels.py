"""The panel of levels: finished elevations, sizes, corners, door sills, ground heights, and what follows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from deckplan.panels.fields import Field, FieldsPanel, slide
from deckplan.panels.session import Session
from deckplan.panels.shapes import corner_fields, size_fields
from deckplan.plan.model import ElevationRange, Platform
from deckplan.study import Study
from deckplan.tabulate import letter_of
from deckplan.units import format_length, format_short


class LevelsPanel(FieldsPanel):
    """Elevations of doors, platforms and ground, platforms with a slider; each platform's size and corners."""

    def __init__(self, session: Session) -> None:
        """Bind the panel to a session."""
        super().__init__(session, "Levels")

    def fields_of(self, study: Study) -> Sequence[Field]:
        """Return the fields of each platform, each door and each measured height of the ground."""
        sizes = [field for platform in study.asked.platforms for field in size_fields(study, platform)]
        corners = [field for platform in study.asked.platforms for field in corner_fields(study, platform)]
        return [*self._platforms(study), *sizes, *self._doors(study), *self._ground(study), *corners]

    def _platforms(self, study: Study) -> Iterator[Field]:
        sills = [door.sill for door in study.asked.house.doors]
        high = max([sill + 6.0 for sill in sills] or [60.0])
        for platform in study.asked.platforms:
            name, units = platform.name, study.asked.units
            lows = [study.levels.ground.elevation_at(corner) for corner in platform.outline]
            elevation = study.levels.elevation(name)
            place = f"platform.{name}.elevation"
            label = f"{letter_of(study, name)}  {name}"
            if isinstance(platform.elevation, ElevationRange):
                chosen = f"Stands at {format_short(elevation, units)}, chosen in the range. "
                yield Field(place, label, f"elevation of {name}, a range", follows=chosen + follows(study,
                platform),
                            group="Finished elevations")  # fmt: skip
            else:
                yield Field(place, label, f"elevation of {name}", follows=follows(study, platform),
                            group="Finished elevations", **slide(units, elevation, min(lows), high))  # fmt: skip

    def _doors(self, study: Study) -> Iterator[Field]:
        for door in study.asked.house.doors:
            steps = [rise for rise in study.levels.flights if rise.upper == door.name]
            said = "; ".join(
                f"{format_short(abs(rise.rise), study.asked.units)} {'up' if rise.rise < 0 else 'down'} to {rise.lower}"
                for rise in steps
            )
            yield Field(f"door.{door.name}.sill", door.name, f"threshold of {door.name}", follows=said,
                        group="House doors, height of the threshold")  # fmt: skip

    def _ground(self, study: Study) -> Iterator[Field]:
        units = study.asked.units
        for number, spot in enumerate(study.asked.site.ground, start=1):
            x, y = (format_length(value, units) for value in spot.at)
            yield Field(f"site.ground.{number}.elevation", f"at {x} along, {y} away from the house",
                        f"ground height at {x}, {y}", group="Ground, as measured", open=False)  # fmt: skip


def follows(study: Study, platform: Platform) -> str:
    """Say what a platform's elevation leads to: the steps down from it, the height over the ground, its guards."""
    units = study.asked.units
    name = platform.name
    words = []
    for rise in study.levels.flights:
        if rise.upper == name:
            riser = format_short(rise.riser, units)
            count = f"{rise.risers} risers of" if rise.risers > 1 else "one riser of"
            words.append(f"{count} {riser} to {rise.lower}")
    elevation = study.levels.elevation(name)
    over = [elevation - study.levels.ground.elevation_at(corner) for corner in platform.outline]
    low, high = format_short(min(over), units), format_short(max(over), units)
    words.append(f"{low if low == high else f'{low} to {high}'} above the ground")
    needed = [stretch for stretch in study.layout.guards if stretch.platform == name and stretch.required]
    words.append("guard required" if needed else "no guard required")
    return "; ".join(words)
