"""Tables of the frame: members one by one and in brief, posts with their footings."""

from __future__ import annotations

from collections import defaultdict

from deckplan.checks.ground_contact import alike, marks_in_words, treatments
from deckplan.layout.model import Kind, Member
from deckplan.study import Study
from deckplan.tabulate.sheet import Cell, Scale, Sheet, percent


def members_sheet(study: Study) -> Sheet:
    """Tabulate every member: size, treatment, length, ends, how far it is used.

    Treatment: "ground contact" for wood near the ground, "above ground" for the rest; boards and treads have none here,
    for it comes with the decking product.
    """
    to = Scale(study.plan.units)
    treated = treatments(study.profile, study.levels, study.layout)
    unit = to.short
    columns = ("mark", "platform", "kind", "size", "treatment", f"length [{unit}]", "on the tape", f"from x [{unit}]",
               f"from y [{unit}]", f"to x [{unit}]", f"to y [{unit}]", f"top [{unit}]",
               "used [%]")  # fmt: skip
    rows = tuple(
        (
            member.mark, member.platform, str(member.kind), member.size, treated.get(member.mark, ""),
            to.length(member.length), to.tape(member.length), *(to.length(v) for v in (*member.start, *member.end)),
            to.length(member.top), percent(study.utilisation(member.mark)),
        )
        for member in study.layout.members
    )  # fmt: skip
    return Sheet("Members", columns, rows, tuple(str(row[0]) for row in rows))


def framing_sheet(study: Study) -> Sheet:
    """Tabulate the frame in brief: members of one platform, kind and size together, the longest named."""
    to = Scale(study.plan.units)
    columns = ("platform", "kind", "size", "pieces", f"longest [{to.short}]", "on the tape",
               "used [%]", "most used")  # fmt: skip
    groups: dict[tuple[str, Kind, str], list[Member]] = defaultdict(list)
    for member in study.layout.members:
        groups[(member.platform or member.mark.partition("-")[0], member.kind, member.size)].append(member)
    rows, marks = [], []
    for (platform, kind, size), members in groups.items():
        longest = max(member.length for member in members)
        most = max(members, key=lambda m: study.utilisation(m.mark) or 0.0)
        rows.append((platform, str(kind), size, len(members), to.length(longest), to.tape(longest),
                     percent(study.utilisation(most.mark)), most.mark))  # fmt: skip
        marks.append(most.mark)
    return Sheet("Framing", columns, tuple(rows), tuple(marks))


def treatment_sheet(study: Study, platform: str = "") -> Sheet:
    """Tabulate which wood wants treatment for ground contact, and which does with that for use above ground.

    Pieces of one platform or flight, one kind and one size together; clear: from the ground to their undersides, the
    least and the most. A post has none: it stands at the ground, or on a frame where it is as hard to replace.
    platform: of one platform, of all and their flights where it is empty.
    """
    to = Scale(study.plan.units)
    columns = ("level or flight", "kind", "size", "treatment", "pieces", f"least clear [{to.short}]",
               f"most clear [{to.short}]", "marks")  # fmt: skip
    rows: list[tuple[Cell, ...]] = []
    marks = []
    for found in alike(study.profile, study.levels, study.layout):
        if platform not in ("", found.where):
            continue
        clear = (None, None) if found.kind is Kind.POST else (to.length(found.low), to.length(found.high))
        rows.append((found.where, str(found.kind), found.size, found.treatment, len(found.marks), *clear,
                     marks_in_words(found.marks)))  # fmt: skip
        marks.append(found.marks[0])
    return Sheet("Treatment", columns, tuple(rows), tuple(marks))


def posts_sheet(study: Study) -> Sheet:
    """Tabulate posts and the footings under them: place, height, load, size."""
    to = Scale(study.plan.units)
    unit = to.short
    columns = ("post", "size", f"x [{unit}]", f"y [{unit}]", f"height [{unit}]", "on the tape",
               f"load [{to.force}]", "footing", f"diameter [{unit}]", f"thickness [{unit}]",
               f"bottom [{unit}]", "carries")  # fmt: skip
    sizes = {footing.mark: footing for footing in study.footings}
    rows, marks = [], []
    for post in study.layout.posts:
        footing = sizes.get(post.footing)
        below: tuple[Cell, ...] = (f"on {post.stands_on}" if post.stands_on else None, None, None, None)
        if footing is not None:
            sides = (footing.diameter, footing.thickness, footing.bottom)
            below = (footing.mark, *(to.length(side) for side in sides))
        force = study.loads.posts.get(post.mark)
        load = to.load(force.governing[0]) if force else None
        rows.append((post.mark, post.size, to.length(post.at[0]), to.length(post.at[1]),
        to.length(post.height),
                     to.tape(post.height), load, *below, ", ".join(post.carries)))  # fmt: skip
        marks.append(post.mark)
    return Sheet("Posts and footings", columns, tuple(rows), tuple(marks))
