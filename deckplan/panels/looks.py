"""What the drawing can show: each look a scene, the words and tables beneath it, and what there is to choose.

Nothing here is computed before somebody looks: boards, furniture and load paths are asked of the study by their own
look only.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import get_args

from deckplan.draw.board_view import board_view
from deckplan.draw.footing_view import footing_view
from deckplan.draw.guard_view import guard_view
from deckplan.draw.path_view import path_view
from deckplan.draw.plan_view import plan_view
from deckplan.draw.room_view import room_view
from deckplan.draw.scene import Scene
from deckplan.draw.section_view import section_view
from deckplan.draw.sheet import SCREEN, Sheet
from deckplan.draw.side_view import Side, side_name, side_view
from deckplan.draw.site_view import site_view
from deckplan.draw.treatment_view import treatment_view
from deckplan.layout.model import Kind
from deckplan.panels import beneath
from deckplan.panels.details import detail_scene, details_of
from deckplan.study import Study
from deckplan.tabulate import flight_mark, letter_of
from deckplan.verdict import Verdict

ABOVE, CUT, SIDE, DETAILS = "From above", "Cut through", "From the side", "Details"
"""Where one looks from: the tabs of the drawing."""

FRAMING, FOOTINGS, TREATMENT, GUARDS, BOARDS, FURNITURE, LOADS, SITE = (
    "Framing", "Footings", "Treatment", "Guards", "Boards", "Furniture", "Load path", "Site",
)  # fmt: skip
"""The plans that are seen from above."""

PHONE_DETAIL = Sheet("phone, detail", 6.2, 7.4, 0.11, to_scale=False)
"""The room for a detail on a narrow screen."""


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to be seen apart from the look itself.

    level: the name of one platform, all of them where it is empty; mark: whose load path or details, the study's own
    choice where it is empty; detail: key of the detail; side: from where; sheet: the room on the screen.
    """

    level: str = ""
    mark: str = ""
    detail: str = ""
    side: Side = "garden"
    sheet: Sheet = SCREEN

    def with_(self, name: str, value: str) -> Wish:
        """Return the wish with one field chosen, by its name."""
        return replace(self, **{name: value})  # type: ignore[arg-type]  # values come from the options of an Ask


@dataclass(frozen=True, slots=True)
class Ask:
    """Something to choose beside a look.

    name: of the wish's field; label: the words before it; value: what is chosen; options: each a value, its words, and
    the group that it stands in, empty for none.
    """

    name: str
    label: str
    value: str
    options: tuple[tuple[str, str, str], ...]


def _nothing(study: Study, wish: Wish) -> str:
    return ""


def _no_asks(study: Study, wish: Wish) -> tuple[Ask, ...]:
    return ()


@dataclass(frozen=True, slots=True)
class Look:
    """One drawing: how its scene is made, what stands beneath it, what can be chosen beside it.

    of_a_mark: it speaks of one mark, so that another one picked makes another drawing.
    """

    scene: Callable[[Study, Wish], Scene]
    beneath: Callable[[Study, Wish], str] = _nothing
    asks: Callable[[Study, Wish], tuple[Ask, ...]] = _no_asks
    of_a_mark: bool = False


def settled(look: Look, study: Study, wish: Wish) -> tuple[Wish, tuple[Ask, ...]]:
    """Return a wish with every choice of a look made, where nobody has or what was chosen is gone, and the choices."""
    asks = look.asks(study, wish)
    for ask in asks:
        wish = wish.with_(ask.name, ask.value)
    return wish, asks


def flags_of(study: Study) -> dict[str, str]:
    """Return the marks that a drawing should ring: what fails, and what lies outside the rules.

    A member for which another one speaks is ringed with it, without the word once more.
    """
    words = {Verdict.FAIL: "fails", Verdict.OUTSIDE: "outside"}
    bad = [check for check in study.checks if check.verdict in words]
    if not bad:
        return {}
    flags = {
        check.mark: words[check.verdict] for check in sorted(bad, key=lambda c: c.verdict is Verdict.FAIL)
    }
    # one word for all parts of a kind on a level: more of the same hide the drawing
    said: set[tuple[str, str]] = set()
    for mark, word in flags.items():
        kind = (mark.rstrip("0123456789"), word)
        flags[mark] = "" if kind in said else word
        said.add(kind)
    spoken_for = (mark for mark in study.layout.by_mark if mark not in flags)
    silent = {mark: "" for mark in spoken_for if any(c.verdict in words for c in study.checks_of(mark))}
    return flags | silent


# -- choices --


def _ask(name: str, label: str, wanted: str, options: list[tuple[str, str, str]]) -> tuple[Ask, ...]:
    """Ask for one of some options, the first where the wanted one is not among them; for nothing where none is left."""
    values = [value for value, _, _ in options]
    if len(values) < 2:
        return ()
    return (Ask(name, label, wanted if wanted in values else values[0], tuple(options)),)


def _levels(study: Study, wish: Wish) -> tuple[Ask, ...]:
    names = [(one.name, f"{letter_of(study, one.name)}  {one.name}", "") for one in study.plan.platforms]
    found = _ask("level", "level", wish.level, [("", "all levels", ""), *names])
    return found if len(names) > 1 else ()


def _sides(study: Study, wish: Wish) -> tuple[Ask, ...]:
    sides = [(one, side_name(study.plan, one).removeprefix("Side view "), "") for one in get_args(Side)]
    return _ask("side", "seen", wish.side, sides)


def _details(study: Study, wish: Wish) -> tuple[Ask, ...]:
    found = details_of(study, wish.mark)
    return _ask("detail", "detail", wish.detail, [(one.key, one.words, one.group) for one in found])


def _loaded(study: Study, wish: Wish) -> tuple[Ask, ...]:
    """Ask for a mark: the shared footings first, since they are what one wants to see, then all that carries."""
    options = list(_carriers(study))
    if wish.mark and wish.mark not in [value for value, _, _ in options] and _on_path(study, wish.mark):
        options.insert(0, (wish.mark, wish.mark, "picked"))
    return _ask("mark", "of", wish.mark, options)


def _on_path(study: Study, mark: str) -> bool:
    try:
        study.load_path.answers_for(mark)
    except KeyError:
        return False
    return True


def _carriers(study: Study) -> Iterator[tuple[str, str, str]]:
    """Yield what a load path can be asked of, as options."""
    for shared in (True, False):
        for footing in study.footings:
            posts = [post for post in study.layout.posts if post.footing == footing.mark]
            carried = dict.fromkeys(name for post in posts for name in post.carries)
            carries = tuple(carried) or ("a flight",)
            if (len(carries) > 1) == shared:
                group = "footings that levels share" if shared else "footings"
                yield footing.mark, f"{footing.mark}  {' and '.join(carries)}", group
    for post in study.layout.posts:
        yield post.mark, f"{post.mark}  {' and '.join(post.carries)}", "posts"
    for kind, group in ((Kind.BEAM, "beams"), (Kind.LEDGER, "ledgers")):
        for member in study.layout.members:
            if member.kind is kind:
                yield member.mark, f"{member.mark}  {member.platform}", group
    for platform in study.plan.platforms:
        yield (mark := letter_of(study, platform.name)), f"{mark}  {platform.name}", "levels"
    for rise in study.levels.flights:
        yield (mark := flight_mark(rise)), f"{mark}  {rise.upper} to {rise.lower}", "flights"


# -- the looks --


def _framing(study: Study, wish: Wish) -> Scene:
    flags = flags_of(study)
    return plan_view(study, platform=wish.level, sheet=wish.sheet, titled=False, flags=flags)


def _footings(study: Study, wish: Wish) -> Scene:
    return footing_view(study, sheet=wish.sheet, titled=False)


def _treatment(study: Study, wish: Wish) -> Scene:
    return treatment_view(study, platform=wish.level, sheet=wish.sheet, titled=False)


def _guards(study: Study, wish: Wish) -> Scene:
    return guard_view(study, sheet=wish.sheet, titled=False)


def _boards(study: Study, wish: Wish) -> Scene:
    return board_view(study, study.boards, platform=wish.level, sheet=wish.sheet, titled=False)


def _rooms(study: Study, wish: Wish) -> Scene:
    return room_view(study, study.rooms, platform=wish.level, sheet=wish.sheet, titled=False)


def _path(study: Study, wish: Wish) -> Scene:
    return path_view(study, study.load_path, wish.mark, sheet=wish.sheet, titled=False)


def _site(study: Study, wish: Wish) -> Scene:
    return site_view(study, sheet=wish.sheet, titled=False)


def _cut(study: Study, wish: Wish) -> Scene:
    return section_view(study, sheet=wish.sheet, titled=False)


def _side(study: Study, wish: Wish) -> Scene:
    return side_view(study, side=wish.side, sheet=wish.sheet, titled=False)


def _detail(study: Study, wish: Wish) -> Scene:
    # the few long words of a bearing leave no room for its wood in the large letters of a phone's plans
    sheet = wish.sheet if wish.sheet.full or "|" not in wish.detail else PHONE_DETAIL
    return detail_scene(study, wish.detail, sheet)


LOOKS: dict[str, dict[str, Look]] = {
    ABOVE: {
        FRAMING: Look(_framing, asks=_levels),
        FOOTINGS: Look(_footings, lambda study, wish: beneath.footings(study)),
        TREATMENT: Look(_treatment, lambda study, wish: beneath.treatment(study, wish.level), _levels),
        GUARDS: Look(_guards, lambda study, wish: beneath.guards(study)),
        BOARDS: Look(_boards, lambda study, wish: beneath.boards(study, wish.level), _levels),
        FURNITURE: Look(_rooms, lambda study, wish: beneath.rooms(study, wish.level), _levels),
        LOADS: Look(_path, lambda study, wish: beneath.load_path(study, wish.mark), _loaded, True),
        SITE: Look(_site),
    },
    CUT: {"": Look(_cut)},
    SIDE: {"": Look(_side, asks=_sides)},
    DETAILS: {"": Look(_detail, asks=_details, of_a_mark=True)},
}
"""Every look, by the tab that it stands under and its name there, empty where it is the only one."""
