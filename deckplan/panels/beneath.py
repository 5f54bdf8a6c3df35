"""What stands beneath a drawing: its tables, and a sentence that says what they mean."""

from __future__ import annotations

from html import escape

from deckplan.build.stake_out import base_line
from deckplan.draw.footing_view import corners_in_words
from deckplan.draw.treatment_view import said as treatment_said
from deckplan.explore.load_tables import goes_sheet, stands_sheet
from deckplan.explore.surface_tables import boards_sheet, cuts_sheet, rooms_sheet
from deckplan.panels.html import amount, table
from deckplan.study import Study
from deckplan.tabulate import footings_sheet, guards_sheet, posts_sheet, stakes_sheet, treatment_sheet
from deckplan.units import format_short

KEY = (
    "Black: treated for ground contact. Clear: treated for use above ground. Hatched: joists near the ground."
)
"""The key of the treatment plan, which a screen has no room for beside the drawing."""


def footings(study: Study) -> str:
    """Return the tables of stakes, footings and posts."""
    said = "Each is a round pier, filled to its full depth. Used: of what the soil bears, by the load that sizes it."
    taped = " ".join(corners_in_words(base_line(study.plan), study))
    meet = "Two tapes from both corners meet at the middle of the footing; along and out check them."
    return (
        _part("Where to dig", table(stakes_sheet(study)), f"{taped} {meet}")
        + _part("Footings", table(footings_sheet(study)), said)
        + _part("Posts", table(posts_sheet(study)))
    )


def treatment(study: Study, level: str) -> str:
    """Return the key in words and the table of treatments; level: of one platform, of all where it is empty."""
    said = " ".join((KEY, *treatment_said(study)))
    return _part("Treatment", table(treatment_sheet(study, level)), said)


def guards(study: Study) -> str:
    """Return the table of guards, and what the drop is measured to."""
    if not study.layout.guards:
        return ""
    reach, high, over = (
        format_short(value, study.plan.units)
        for value in (
            study.profile.guard_lookout.value,
            study.profile.guard_height.value,
            study.profile.guard_trigger_drop.value,
        )
    )
    said = (
        f"Dashed edges ask for a guard {high} high, since the drop is over {over}. The drop goes to the lowest ground "
        f"or level within {reach} of the edge, so it may be more than what lies right below."
    )
    sheet = guards_sheet(study)
    none = "No edge asks for a guard. "
    return _part("Guards", table(sheet), said) if sheet.rows else _part("Guards", "", none + said)


def boards(study: Study, level: str) -> str:
    """Return the boards in brief and their cut list; level: of one platform, of all where it is empty."""
    brief, cuts = boards_sheet(study, level), cuts_sheet(study, level)
    said = "Dashed lines are joists; dark ones are wood that the boards need below and the frame does not have yet."
    return _part("Boards", table(brief), said) + _part(cuts.name, table(cuts))


def rooms(study: Study, level: str) -> str:
    """Return what stands where, and whether it has its room; level: of one platform, of all where it is empty."""
    said = "Comfort only: no code asks for it unless it says so, and no verdict of the plan hangs on it."
    return _part("What fits", table(rooms_sheet(study, level)), said)


def load_path(study: Study, mark: str) -> str:
    """Return what stands on a mark and where its load ends."""
    stands, goes = study.load_path.what_stands_on(mark), study.load_path.where_does_it_go(mark)
    head = f"<p><b>{escape(study.describe(mark))}</b></p>"
    if not stands:
        return head + f"<p>No load of the deck goes through {escape(mark)}.</p>"
    units = study.plan.units
    total = amount(round(sum(one.full for one in stands)), "lb", units)
    said = f"All live load on at once: {total}. Press another part of the drawing to see its path."
    found = head + _part(f"What stands on {mark}", table(stands_sheet(study, mark)), said)
    if len(goes) > 1 or (goes and goes[0].support != mark):
        lifted = any(one.force < 0 for one in goes)
        said = "Lifted: the load levers that support up, and the others carry so much more." if lifted else ""
        found += _part("Where that load goes", table(goes_sheet(study, mark)), said)
    return found


def _part(title: str, body: str, said: str = "") -> str:
    words = f'<p class="dk-quiet">{escape(said)}</p>' if said else ""
    return f"<h3>{escape(title)}</h3>{words}{body}"
