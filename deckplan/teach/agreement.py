"""How we know: the published tables set beside our sums, for a page that shows it, and what the page must admit.

What is written here is written from the comparisons themselves: every count and every difference is computed.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from io import BytesIO

from deckplan.draw.agreement_view import agreement_view
from deckplan.draw.paint_matplotlib import paint
from deckplan.draw.scene import Scene
from deckplan.engineering.agreement import Comparison, compare_all
from deckplan.engineering.prescriptive import ledger_capacity
from deckplan.reference import read_table

DPI = 90.0
GREYS = 16
"""Shades that are kept of a sheet: its few greys and the edges of letters."""


@dataclass(frozen=True)
class SheetPicture:
    """A painted sheet of comparisons for a page, in few shades so that it is light to keep."""

    scene: Scene
    dpi: float = DPI

    @cached_property
    def _png(self) -> bytes:
        from PIL import Image

        full = paint(self.scene, dpi=self.dpi)._repr_png_()
        out = BytesIO()
        Image.open(BytesIO(full)).convert("RGB").quantize(GREYS).save(out, "png", optimize=True)
        return out.getvalue()

    def _repr_png_(self) -> bytes:
        return self._png

    def __repr__(self) -> str:
        """Say what it is; the picture itself shows in a notebook."""
        return f"<SheetPicture: {self.scene.name}>"


def picture_of_agreement(found: Sequence[Comparison], *tables: str) -> SheetPicture:
    """Return the sheet of some tables as a picture; `.scene.summary()` says what it shows."""
    return SheetPicture(agreement_view(found, *tables))


@dataclass(frozen=True, slots=True)
class Admission:
    """Something that the page must say plainly: what, and why."""

    what: str
    why: str


@dataclass(frozen=True)
class Agreement:
    """All comparisons, and what they come to.

    found: every published figure beside ours.
    """

    found: tuple[Comparison, ...] = field(default_factory=compare_all)

    def of(self, table: str) -> list[Comparison]:
        """Return the comparisons of one table; raises KeyError where there is none."""
        chosen = [each for each in self.found if each.table == table]
        if not chosen:
            raise KeyError(table)
        return chosen

    def from_memory(self, table: str) -> list[Comparison]:
        """Return the comparisons of a table whose printed figure is recalled, not read off a copy."""
        return [each for each in self.of(table) if "memory" in each.confirmed.lower()]

    def picture(self, *tables: str) -> SheetPicture:
        """Return the sheet of some tables as a picture."""
        return picture_of_agreement(self.found, *tables)

    def verdict(self) -> str:
        """Say in one sentence how many figures agree, and how many of those were computed at all."""
        agree = sum(each.agrees for each in self.found)
        both = [each for each in self.found if each.bound == "both" and each.tolerance > 0]
        close = sum(each.agrees for each in both)
        return (
            f"{agree} of {len(self.found)} published figures agree. Of these, {len(both)} are computed and held to "
            f"the printed figure from both sides, and {close} of them agree; the others are post heights, held from "
            "one side, and ledger rows, which are looked up."
        )

    def admissions(self) -> tuple[Admission, ...]:
        """Return what is not reproduced, what is recalled, what is inferred, and what is not tested at all."""
        return (*self._not_reproduced(), *self._recalled(), *self._inferred())

    def _not_reproduced(self) -> list[Admission]:
        posts, ledgers, beams = self.of("post heights"), self.of("ledgers"), self.of("beam spans")
        footings = self.of("footings")
        longer = [each for each in posts if each.difference > each.tolerance]
        most = max(longer, key=lambda each: each.difference)
        refused = sum(each.printed == 0 for each in posts)
        capped = sum(each.printed == each.ours for each in posts)
        missed = [each for each in beams if not each.agrees]
        over = ", ".join(f"{each.cell} by {abs(each.difference) - each.tolerance:.2f} in" for each in missed)
        inch = [each for each in footings if each.difference]
        said = ", ".join(f"{each.cell} ({each.printed:g} in printed, {each.ours:g} ours)" for each in inch)
        lag, bolt = (ledger_capacity(kind).value for kind in ("1/2 lag", "1/2 bolt"))
        return [
            Admission(
                f"Post heights are not reproduced: in {len(longer)} of {len(posts)} cells our column sum allows more.",
                f"No sum behind the printed heights is published, and none was found. Where the two are equal "
                f"({capped} cells) both stop at the 14 ft cap, which proves nothing about the column. Most apart: "
                f"{most.cell}, {most.printed:g} in printed, {most.ours:.1f} in by the sum. {refused} cells are printed "
                f"as not permitted and stand here as 0. The print therefore governs where it applies, as a check of "
                f"its own; the sum is only held to give no less.",
            ),
            Admission(
                f"Ledger fasteners are not computed: the {len(ledgers)} rows are kept as data and looked up.",
                f"They rest on tests of the whole joint, about {lag:.0f} lb a lag screw and {bolt:.0f} lb a bolt by "
                f"the printed rows; no equation of the NDS gives them, and its yield equations give much less. That "
                f"they agree says only that the copy is intact.",
            ),
            Admission(
                f"{len(missed)} beam cells miss: beyond the half inch of rounding are {over}.",
                "Both are recalled, not read off a copy, so the printed figure itself may be the one that is wrong.",
            ),
            Admission(
                f"{len(inch)} of {len(footings)} footing figures differ by an inch: {said}.",
                "One up, one down, and no way of rounding was found that gives both. Decks here stand on round "
                "footings; none of those comes out smaller than printed.",
            ),
        ]  # fmt: skip

    def _recalled(self) -> list[Admission]:
        beams, ledgers = self.from_memory("beam spans"), self.from_memory("ledgers")
        values = read_table("lumber", "design_values.csv")
        recalled = [row for row in values if "memory" in row["confirmed"].lower()]
        timbers = sum("5x5" in row["size class"] for row in recalled)
        return [
            Admission(
                f"From memory: {len(beams)} of {len(self.of('beam spans'))} beam cells (every one of the second "
                f"species group), {len(ledgers)} of {len(self.of('ledgers'))} ledger rows, and which species each "
                f"column of post heights is.",
                "No copy of the print was at hand for them. A sum that gives a recalled figure supports both, but it "
                "is weaker evidence than a figure read off the page.",
            ),
            Admission(
                f"From memory, wholly or in part: {len(recalled)} of {len(values.rows)} rows of design values; "
                f"{timbers} of these are timbers of 5 in and more. The dressed size of an 8x8 is unresolved.",
                "The weaker of the two sizes is used. Posts are such timbers: another reason to let the printed height "
                "govern.",
            ),
            Admission(
                "Not tested: beams, posts and footings of the IRC 2021.",
                "Every cell of those tables that could be had is recalled, with other assumptions than the 2018 "
                "edition's, and nothing confirms either. The rule profile irc-2021 therefore rests on the sums and on "
                "the tables named here.",
            ),
        ]

    def _inferred(self) -> list[Admission]:
        return [
            Admission(
                "Inferred: the 3 in taken off an overhang.",
                "No note of the table states it. With it every overhang comes out; it is derived from the table that "
                "it reproduces.",
            ),
            Admission(
                "Inferred: what the beam table takes for its load, its factor for two plies and its deflection.",
                "The factor for two plies is not in the NDS, which counts repetitive use from three members. It "
                "serves to reproduce the table and nothing else: checks of a plan use the NDS strictly, and hold the "
                "sag under all loads as the table does.",
            ),
            Admission(
                "Not held to print: a beam under joists that overhang it by less than a quarter of their span.",
                "The table takes the quarter for granted. A beam that really carries less may go beyond the printed "
                "span by its sum, and a stronger species beyond the weakest of its group; whoever must build by the "
                "table looks the beam up. Joists and posts of a plan are held to the printed figures as well.",
            ),
        ]  # fmt: skip

    def say_admissions(self) -> str:
        """Write the admissions as plain text, 100 letters a line."""
        parts = []
        for number, each in enumerate(self.admissions(), 1):
            head = textwrap.fill(f"{number}. {each.what}", 100, subsequent_indent="   ")
            parts.append(head + "\n" + textwrap.indent(textwrap.fill(each.why, 97), "   "))
        return "\n\n".join(parts)
