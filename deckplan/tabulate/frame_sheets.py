"""Tables of the frame: members one by one and in brief, posts, footings."""

from __future__ import annotations

from collections import defaultdict

from deckplan.build.stake_out import base_line, stake_out
from deckplan.buy.cutting import said_ends
from deckplan.buy.lumber import ends_cut
from deckplan.checks.ground_contact import alike, marks_in_words, treatments
from deckplan.layout.ends import cut_ends
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
    columns = ("mark", "platform", "kind", "size", "treatment", f"length [{unit}]", "length", f"from x [{unit}]",
               f"from y [{unit}]", f"to x [{unit}]", f"to y [{unit}]", f"top [{unit}]",
               "ends off square [deg]", "used [%]")  # fmt: skip
    cuts = cut_ends(study.layout.members)
    rows = tuple(
        (
            member.mark, member.platform, str(member.kind), member.size, treated.get(member.mark, ""),
            to.length(member.length), to.tape(member.length), *(to.length(v) for v in (*member.start, *member.end)),
            to.length(member.top), said_ends(ends_cut(member, cuts)), percent(study.utilisation(member.mark)),
        )
        for member in study.layout.members
    )  # fmt: skip
    return Sheet("Members", columns, rows, tuple(str(row[0]) for row in rows))


def framing_sheet(study: Study) -> Sheet:
    """Tabulate the frame in brief: members of one platform, kind and size together, the longest named."""
    to = Scale(study.plan.units)
    columns = ("platform", "kind", "size", "pieces", f"longest [{to.short}]", "longest",
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
    """Tabulate posts: height, the load at their head, what they stand on and carry."""
    to = Scale(study.plan.units)
    columns = ("post", "size", "height", f"load [{to.force}]", "footing", f"diameter [{to.short}]", "carries")
    sizes = {footing.mark: footing for footing in study.footings}
    rows, marks = [], []
    for post in study.layout.posts:
        footing = sizes.get(post.footing)
        foot: tuple[Cell, Cell] = (f"on {post.stands_on}" if post.stands_on else None, None)
        if footing is not None:
            foot = (footing.mark, to.length(footing.diameter))
        force = study.loads.posts.get(post.mark)
        load = to.load(force.governing[0]) if force else None
        rows.append((post.mark, post.size, to.small(post.height), load, *foot, ", ".join(post.carries)))
        marks.append(post.mark)
    return Sheet("Posts", columns, tuple(rows), tuple(marks))


def footings_sheet(study: Study) -> Sheet:
    """Tabulate footings, those under flights too: place, pier, and the load that sizes it with what it uses.

    That load is the post's own with the post's weight, its live load where it hurts; deep: below the ground there.
    """
    to = Scale(study.plan.units)
    unit = to.short
    columns = ("footing", "under", "x", "y", f"diameter [{unit}]", f"deep [{unit}]", f"least thick [{unit}]",
               "bottom", f"sized for [{to.force}]", "used [%]")  # fmt: skip
    rows = tuple(
        (
            one.mark, " and ".join(one.posts) or one.mark.partition("-")[0], to.tape(one.at[0]), to.tape(one.at[1]),
            *(to.length(side) for side in (one.diameter, one.top - one.bottom, one.thickness)),
            to.tape(one.bottom), to.load(one.design), percent(study.utilisation(one.mark)),
        )
        for one in study.footings
    )  # fmt: skip
    return Sheet("Footings", columns, rows, tuple(str(row[0]) for row in rows))


def stakes_sheet(study: Study) -> Sheet:
    """Tabulate where each footing is staked out: along and out from the base line, two tapes from its corners.

    No rows where a plan has neither a wall nor a platform to tape from.
    """
    to = Scale(study.plan.units)
    columns = ("footing", "along", "out", "from corner 1", "from corner 2", f"from corner 1 [{to.short}]",
               f"from corner 2 [{to.short}]")  # fmt: skip
    base = base_line(study.plan)
    rows = tuple(
        (one.mark, to.tape(one.along), to.tape(one.out), to.tape(one.from_first), to.tape(one.from_second),
         to.length(one.from_first), to.length(one.from_second))
        for one in (stake_out(base, study.footings) if base else ())
    )  # fmt: skip
    return Sheet("Stakes", columns, rows, tuple(str(row[0]) for row in rows))
