"""Guards named at their own edges, and what posts on a lower frame stand on in a section."""

from __future__ import annotations

from deckplan import tabulate
from deckplan.draw.guard_view import guard_view
from deckplan.draw.plan_view import plan_view
from deckplan.draw.scene import Area, Role
from deckplan.draw.section_view import section_view
from deckplan.draw.sheet import SCREEN
from deckplan.geometry import point_to_line
from deckplan.layout.model import numbered_guards
from deckplan.plan.file import read_plan
from deckplan.reference import data_path
from deckplan.study import Study


def test_a_guard_too_short_for_its_words_has_its_mark_at_its_own_edge() -> None:
    study = Study(read_plan(data_path("plans", "alder-point.toml")))
    scene = guard_view(study, sheet=SCREEN)
    numbered = dict(numbered_guards(study.layout.guards))
    edges = {shape.mark: shape for shape in scene.of(Role.GUARD_NEEDED)}
    assert set(edges) == set(numbered)
    marks = {label.mark: label for label in scene.labels if label.mark in numbered}
    alone = [mark for mark, label in marks.items() if label.text == mark]
    assert "G9" in alone, "10 7/16 in of edge have no room for their words"
    for mark in alone:
        edge = numbered[mark]
        off = point_to_line(marks[mark].at, (edge.start, edge.end))
        assert off < 2.0 * marks[mark].height, "it stands at its own edge"
    # IRC R312.1.1: the drop goes to anything within 36 in; the table says so in its heading
    table = tabulate.guards(study).set_index("guard")
    assert set(table.index) == set(numbered)
    assert table.loc["G9", 'drop within 36"'] == '30 15/16"'
    assert any(
        'G9: 0\'-10 7/16" of lounge, drop 30 15/16"' in label.text for label in guard_view(study).labels
    )


def test_a_section_shows_what_posts_on_a_lower_frame_stand_on() -> None:
    study = Study(read_plan(data_path("plans", "frames-stacked.toml")))
    scene = section_view(study)
    posts = [
        one
        for one in study.layout.posts
        if one.stands_on and any(shape.mark == one.mark for shape in scene.of(Role.POST_BEYOND))
    ]
    assert posts
    blocks = [shape for shape in scene.of(Role.BLOCKING) if isinstance(shape, Area)]
    boards = [shape for shape in scene.of(Role.BOARD) if isinstance(shape, Area) and shape.mark == "A"]
    for post in posts:
        (drawn,) = [shape for shape in scene.of(Role.POST_BEYOND) if shape.mark == post.mark]
        assert isinstance(drawn, Area)
        at = drawn.box.left + post.width / 2
        assert any(block.box.left <= at <= block.box.right for block in blocks), "wood under its foot"
        assert not any(board.box.left < at < board.box.right for board in boards), "boards are cut round it"


def test_posts_that_stand_close_on_a_screen_are_named_where_one_level_is_shown_alone() -> None:
    study = Study(read_plan(data_path("plans", "six-terraces.toml")))
    posts = {post.mark for post in study.layout.posts}
    whole = [label.text for label in plan_view(study, frame=study.built, sheet=SCREEN).labels]
    assert not [text for text in whole if text.split("\n")[0] in posts], "marks on marks hide the drawing"
    assert "the rest" not in whole
    one = plan_view(study, platform=study.plan.platforms[0].name, frame=study.built, sheet=SCREEN)
    own = {post.mark for post in study.layout.posts if post.platform == study.plan.platforms[0].name}
    assert own <= {label.text.split("\n")[0] for label in one.labels}
