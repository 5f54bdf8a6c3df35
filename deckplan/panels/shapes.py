"""Fields for what a platform is: its purpose, width and depth of a rectangle, the corners of any outline."""

from __future__ import annotations

from collections.abc import Iterator

from deckplan.panels.fields import Field
from deckplan.plan.model import Platform
from deckplan.plan.shape import ends_of, keeps_high
from deckplan.study import Study
from deckplan.tabulate import letter_of

SIZES = "Purpose and size"
USES = "dining, cooking, lounge, fire, sun, tub, planting, passage or a word of your own"
_AXES = (("width", "along the house", ("left", "right")), ("depth", "away from it", ("nearer", "farther")))


def size_fields(study: Study, platform: Platform) -> Iterator[Field]:
    """Yield purpose and people, then width and depth of a rectangle; any other outline has its corners only."""
    mark, name = letter_of(study, platform.name), platform.name
    yield Field(f"platform.{name}.use", f"{mark}  {name}, for", f"purpose of {name}", "half",
                "" if platform.use else USES, group=SIZES)  # fmt: skip
    yield Field(f"platform.{name}.people", f"{mark}  {name}, people", f"people on {name}", "half",
                "to find room for", group=SIZES)  # fmt: skip
    if ends_of(platform) is None:
        return
    for axis, (key, way, edges) in enumerate(_AXES):
        stays = edges[int(keeps_high(study.asked, platform, axis))]
        yield Field(f"platform.{name}.{key}", f"{mark}  {name}, {key}", f"{key} of {name}, {way}", "half",
                    f"{way}; the {stays} edge stays", group=SIZES)  # fmt: skip


def corner_fields(study: Study, platform: Platform) -> Iterator[Field]:
    """Yield x and y of every corner, then what adds one or takes one out."""
    mark, name = letter_of(study, platform.name), platform.name
    group, place = f"{mark}  {name}, corners", f"platform.{name}"
    count = len(platform.outline)
    for number in range(1, count + 1):
        for key, way in (("x", "along"), ("y", "away")):
            yield Field(f"{place}.outline.{number}.{key}", f"corner {number}, {way}",
                        f"corner {number} of {name}, {way}", "half", group=group, open=False)  # fmt: skip
    numbers = range(1, count + 1)
    between = tuple((f"{n}", f"between {n} and {n % count + 1}") for n in numbers)
    yield Field(f"{place}.corner.add", "add a corner", f"add a corner to {name}", "choice",
                choices=(("", "choose where"), *between), group=group, open=False)  # fmt: skip
    if count > 3:
        out = tuple((f"{n}", f"corner {n}") for n in numbers)
        yield Field(f"{place}.corner.out", "take a corner out", f"take a corner out of {name}", "choice",
                    choices=(("", "choose which"), *out), group=group, open=False)  # fmt: skip
