"""Rule profiles: values beside their source, inheritance, and mistakes told by their place."""

import pytest

from deckplan.errors import InputError
from deckplan.rules import Limit, load_profile, profile_names
from deckplan.rules.profile import LIMITS

# (profile, limit, value in inches, pounds, psf or risers, where it is published)
PUBLISHED = [
    ("irc-2021", "riser_max", 7.75, "IRC R311.7.5.1"),
    ("irc-2021", "riser_spread_max", 0.375, "IRC R311.7.5.1"),
    ("irc-2021", "tread_min", 10.0, "IRC R311.7.5.2"),
    ("irc-2021", "flight_rise_max", 151.0, "IRC R311.7.3"),
    ("irc-2021", "headroom_min", 80.0, "IRC R311.7.2"),
    ("irc-2021", "guard_trigger_drop", 30.0, "IRC R312.1.1"),
    ("irc-2021", "guard_lookout", 36.0, "IRC R312.1.1"),
    ("irc-2021", "guard_height", 36.0, "IRC R312.1.2"),
    ("irc-2021", "handrail_risers", 4.0, "IRC R311.7.8"),
    ("irc-2021", "handrail_height_min", 34.0, "IRC R311.7.8.1"),
    ("irc-2021", "handrail_height_max", 38.0, "IRC R311.7.8.1"),
    ("irc-2021", "live_load", 40.0, "IRC Table R301.5"),
    ("irc-2021", "guard_load", 200.0, "IRC Table R301.5"),
    ("irc-2021", "bearing_on_wood", 1.5, "IRC R507.6.1"),
    ("irc-2021", "bearing_on_concrete", 3.0, "IRC R507.6.1"),
    ("irc-2021", "lateral_two_force", 1500.0, "IRC R507.9.2"),
    ("irc-2021", "lateral_four_force", 750.0, "IRC R507.9.2"),
    ("irc-2021", "footing_depth_min", 12.0, "IRC R403.1.4"),
    ("irc-2021", "joist_span_cap", 216.0, "AWC DCA6 Table 2 note, 18 ft"),
    ("irc-2018", "riser_max", 7.75, "IRC R311.7.5.1"),
    ("ibc-2021", "riser_max", 7.0, "IBC 1011.5.2"),
    ("ibc-2021", "riser_min", 4.0, "IBC 1011.5.2"),
    ("ibc-2021", "tread_min", 11.0, "IBC 1011.5.2"),
    ("ibc-2021", "flight_rise_max", 144.0, "IBC 1011.8"),
    ("wisconsin", "guard_trigger_drop", 24.0, "Wisconsin SPS 320-325 Appendix B"),
    ("wisconsin", "handrail_height_min", 30.0, "Wisconsin SPS 320-325 Appendix B"),
    ("local-example", "riser_spread_max", 0.25, "invented"),
    ("local-example", "riser_min", 4.0, "invented"),
    ("local-example", "riser_max", 7.75, "inherited, IRC R311.7.5.1"),
]

# millimetres, from memory of the National Building Code of Canada
METRIC = [
    ("riser_max", 200.0), ("riser_min", 125.0), ("riser_spread_max", 6.0), ("riser_neighbours_max", 5.0),
    ("guard_trigger_drop", 600.0),
]  # fmt: skip


@pytest.mark.parametrize(("profile", "limit", "value", "source"), PUBLISHED)
def test_limits_stand_as_published(profile: str, limit: str, value: float, source: str) -> None:
    assert getattr(load_profile(profile), limit).value == pytest.approx(value), source


@pytest.mark.parametrize(("limit", "millimetres"), METRIC)
def test_canada_is_written_in_metric(limit: str, millimetres: float) -> None:
    assert getattr(load_profile("canada"), limit).value * 25.4 == pytest.approx(millimetres, rel=1e-12)


def test_wisconsin_caps_posts_by_its_appendix() -> None:
    # Wisconsin SPS 320-325 Appendix B: 4x4 to 6 ft, 4x6 to 8 ft, 6x6 to 14 ft
    caps = load_profile("wisconsin").post_height_caps
    assert [caps[size].value for size in ("4x4", "4x6", "6x6")] == [72.0, 96.0, 168.0]


@pytest.mark.parametrize("name", profile_names())
def test_every_limit_names_its_source_and_how_far_it_is_confirmed(name: str) -> None:
    for limit in load_profile(name).limits().values():
        assert limit.source.document
        assert limit.source.confirmed


def test_the_named_profiles_are_there() -> None:
    wanted = {"irc-2018", "irc-2021", "ibc-2021", "canada", "wisconsin", "local-example"}
    assert wanted <= set(profile_names())


def test_a_limit_that_the_code_does_not_state_says_why() -> None:
    profile = load_profile("irc-2021")
    assert profile.riser_min is None
    assert "no minimum" in profile.unstated["riser_min"]


@pytest.mark.parametrize("name", profile_names())
def test_the_stricter_answer_governs_unless_a_users_own_file_says_otherwise(name: str) -> None:
    assert load_profile(name).may_set_aside == ()


def own(tmp_path, text: str, name: str = "town.toml"):
    (tmp_path / name).write_text(text, encoding="utf-8")
    return load_profile(str(tmp_path / name))


GUARD = 'guard_height = { value = "42 in", document = "Town code (invented)" }'


def test_a_users_file_extends_another_and_changes_only_what_it_says(tmp_path) -> None:
    profile = own(tmp_path, f'extends = "irc-2021"\n{GUARD}')
    parent = load_profile("irc-2021")
    assert profile.name == "town"
    assert profile.guard_height.value == 42.0
    assert profile.guard_height.source.document == "Town code (invented)"
    assert profile.riser_max == parent.riser_max
    changed = {name for name in LIMITS if getattr(profile, name) != getattr(parent, name)}
    assert changed == {"guard_height"}


def test_a_file_may_extend_a_file_beside_it(tmp_path) -> None:
    (tmp_path / "county.toml").write_text(f'extends = "irc-2018"\n{GUARD}', encoding="utf-8")
    assert own(tmp_path, 'extends = "county.toml"').guard_height.value == 42.0


@pytest.mark.parametrize("written", ['"4 in"', '"101.6 mm"', '"10.16 cm"', "'4\"'"])
def test_lengths_are_read_in_any_unit(tmp_path, written: str) -> None:
    text = f'extends = "irc-2021"\nriser_min = {{ value = {written}, document = "Town" }}'
    assert own(tmp_path, text).riser_min == Limit(4.0, "in", own(tmp_path, text).riser_min.source)


MISTAKES = [
    ('extends = "irc-2021"\nriser_maximum = { value = "7 in", document = "T" }', "riser_maximum"),
    ('extends = "irc-2021"\nriser_max = { value = "7 psf", document = "T" }', "riser_max"),
    ('extends = "irc-2021"\nriser_max = { value = "7", document = "T" }', "riser_max"),
    ('extends = "irc-2021"\nriser_max = { value = 7, document = "T" }', "riser_max"),
    ('extends = "irc-2021"\nriser_max = { value = "7 in" }', "riser_max"),
    ('extends = "irc-2021"\nriser_max = { value = "7 in", document = "T", weight = "1" }', "riser_max"),
    ('extends = "irc-2021"\nriser_max = "7 in"', "riser_max"),
    ('extends = "irc-2021"\nriser_max = { value = "none", document = "T" }', "riser_max"),
    ('extends = "irc-2021"\nlive_load = { value = "40 in", document = "T" }', "live_load"),
    ('extends = "irc-2021"\nguard_load = { value = "-5 lb", document = "T" }', "guard_load"),
    ('extends = "irc-2021"\nmay_set_aside = ["gravity"]', "may_set_aside"),
    ('extends = "irc-2021"\nmay_set_aside = ["guard_height"]', "may_set_aside"),  # no sum answers for it
    ('extends = "irc-1492"', "extends"),
    ('extends = "missing.toml"', "extends"),
    ("extends = 3", "extends"),
    ('extends = "town.toml"', "extends"),
    ("riser_max = ", "the file"),
    (GUARD, "riser_max"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "place"), MISTAKES)
def test_mistakes_are_told_with_file_and_place(tmp_path, text: str, place: str) -> None:
    with pytest.raises(InputError) as caught:
        own(tmp_path, text)
    assert caught.value.file == "town.toml"
    assert any(problem.place.startswith(place) for problem in caught.value.problems)


def test_a_ring_of_profiles_is_told(tmp_path) -> None:
    (tmp_path / "a.toml").write_text('extends = "town.toml"', encoding="utf-8")
    with pytest.raises(InputError, match=r"town\.toml -> a\.toml -> town\.toml"):
        own(tmp_path, 'extends = "a.toml"')


def test_all_mistakes_are_told_at_once(tmp_path) -> None:
    text = 'extends = "irc-2021"\nriser_max = { value = "7 psf", document = "T" }\ntread_min = "x"'
    with pytest.raises(InputError) as caught:
        own(tmp_path, text)
    assert {problem.place for problem in caught.value.problems} == {"riser_max", "tread_min"}


def test_an_unknown_name_lists_the_known_ones() -> None:
    with pytest.raises(InputError, match="irc-2021"):
        load_profile("irc-1900")


def test_values_can_be_tried_out_and_are_marked_so() -> None:
    tried = load_profile("irc-2021").with_values(riser_max=7.0)
    assert tried.riser_max.value == 7.0
    assert "own" in tried.riser_max.source.document
    assert load_profile("irc-2021").riser_max.value == 7.75
    with pytest.raises(KeyError):
        tried.with_values(height_of_moon=1.0)


@pytest.mark.parametrize(
    ("name", "exempt"), [("irc-2018", 1.0), ("irc-2021", 1.0), ("wisconsin", 0.0), ("canada", 0.0)]
)
def test_only_the_irc_lets_a_free_standing_deck_off_the_frost_line(name: str, exempt: float) -> None:
    # IRC R507.3.2 exception 2; Wisconsin SPS 321.225 and the NBC ask frost protection (from memory, read cautiously)
    limit = load_profile(name).frost_exempt_freestanding
    assert limit.value == exempt
    if not exempt:
        assert "from memory" in str(limit.source)
        assert limit.note
