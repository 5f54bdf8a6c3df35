"""The panel of rules, loads and wood: what holds for the whole deck."""

from __future__ import annotations

from collections.abc import Sequence

from deckplan.engineering.lumber import grade_names, species_names
from deckplan.panels.fields import Field, FieldsPanel
from deckplan.panels.session import Session
from deckplan.reference import data_path
from deckplan.study import Study

_POSTS = (("4x4", "4x4"), ("4x6", "4x6"), ("6x6", "6x6"), ("8x8", "8x8"))
_UNITS = (("us", "feet and inches"), ("metric", "millimetres"))


class SitePanel(FieldsPanel):
    """Rule profile, soil, frost, loads, species and grade, posts, units."""

    def __init__(self, session: Session) -> None:
        """Bind the panel to a session."""
        super().__init__(session, "Rules, loads and wood")

    def fields_of(self, study: Study) -> Sequence[Field]:
        """Return the fields; rule profiles are those that come with the program, and the plan's own."""
        asked, profile = study.asked, study.profile
        names = sorted(path.stem for path in data_path("rules").glob("*.toml"))
        rules, loads, wood = "Rules", "Ground and loads", "Wood"
        live = (
            f"{profile.live_load.value:g} psf by {profile.live_load.source}"
            if asked.site.live_load is None
            else ""
        )
        species = tuple((name.lower(), name) for name in species_names())
        grades = tuple((grade, grade) for grade in grade_names(asked.materials.species))
        return [
            Field("rules", "rule profile", "rule profile", "choice", profile.title,
                  choices=tuple((name, name) for name in names), group=rules),
            Field("units", "shown in", "units", "choice", choices=_UNITS, group=rules),
            Field("site.soil_bearing", "soil may bear", "soil bearing", group=loads),
            Field("site.frost_depth", "frost depth", "frost depth", group=loads),
            Field("site.live_load", "live load", "live load", follows=live, group=loads),
            Field("site.snow_load", "snow load", "snow load", group=loads),
            Field("materials.species", "species", "species", "choice", choices=species, group=wood),
            Field("materials.grade", "grade", "grade", "choice", choices=grades, group=wood),
            Field("materials.post", "posts", "post size", "choice", choices=_POSTS, group=wood),
        ]  # fmt: skip
