"""Lists of prices: faults of a file are said with their place; every demo plan can be priced with the invented one."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from deckplan import reference
from deckplan.buy.item import Item
from deckplan.buy.prices import Prices, read_prices
from deckplan.buy.takeoff import take_off
from deckplan.errors import InputError
from deckplan.plan.file import read_plan
from deckplan.reference import data_path, read_table
from deckplan.study import Study

HEAD = "# Prices of a yard. Source: invented for a test.\nitem,price [dollars],per\n"


@pytest.fixture
def yard(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder of data with one list of prices to write to."""
    (tmp_path / "prices").mkdir()
    monkeypatch.setattr(reference, "data_path", lambda *parts: tmp_path.joinpath(*parts))
    reference.read_table.cache_clear()
    yield tmp_path / "prices" / "yard.csv"
    reference.read_table.cache_clear()


def read(file: Path, *lines: str) -> Prices:
    file.write_text(HEAD + "".join(f"{line}\n" for line in lines), encoding="utf-8")
    return read_prices(file.name)


def test_a_good_list_is_read_with_whose_it_is(yard: Path) -> None:
    prices = read(yard, "2x8,1.25,ft", "post base,0,piece", "concrete,9,cu ft")
    assert prices.each == {"2x8": 1.25, "post base": 0.0, "concrete": 9.0}
    assert "invented for a test" in prices.source


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("2x8,-1.25,ft", "a price of zero or more, not -1.25"),
        ("2x8,nan,ft", "a price of zero or more, not nan"),
        ("2x8,inf,ft", "a price of zero or more, not inf"),
        ("2x8,cheap,ft", "a number, not cheap"),
        ("2x8,,ft", "a number, not nothing"),
        ("2x8,1.25,yard", "one of piece, ft, cu ft, not yard"),
        ("post cap,3,piece", "one price, not a second one"),
    ],
)
def test_what_is_wrong_is_said_with_its_row(yard: Path, line: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        read(yard, "post cap,18,piece", line)
    (problem,) = caught.value.problems
    assert "row 2" in problem.place
    assert said in str(problem)


def test_all_faults_are_said_at_once(yard: Path) -> None:
    with pytest.raises(InputError) as caught:
        read(yard, "2x8,-1,ft", "2x10,dear,ft", "2x12,2,mile")
    assert len(caught.value.problems) == 3


def test_a_row_too_short_is_named(yard: Path) -> None:
    with pytest.raises(InputError, match="row 1: 3 cells, not 2"):
        read(yard, "2x8,1.25")


def test_an_item_without_a_price_is_named() -> None:
    prices = Prices("test", {"2x8": 2.0})
    hangers = Item("connectors", "joist hanger, 2x8", None, 7.0, 0.0, 7, "pieces", "")
    with pytest.raises(InputError, match="prices, joist hanger: a price in the list, not none"):
        prices.total([hangers])


def test_goods_are_paid_by_the_foot_of_stock_or_by_the_piece() -> None:
    # By hand: 3 sticks of 12 ft at 2 a foot; 5.5 m of rail are 18.04 ft at 10; 100 screws at 0.1
    prices = Prices("test", {"2x8": 2.0, "rail and infill": 10.0, "board screw": 0.1})
    lumber = Item(
        "lumber", "2x8 hem-fir No. 2, above ground", 144.0, 400.0, 0.08, 3, "pieces", "", goods="2x8"
    )
    rail = Item("guards", "rail and infill, 36 in high", None, 5.5, 0.0, 6, "m", "")
    screws = Item("screws", "board screw", None, 100.0, 0.0, 100, "pieces", "")
    assert prices.line(lumber) == 72.0
    assert prices.line(rail) == pytest.approx(180.4, abs=0.1)
    assert prices.line(screws) == pytest.approx(10.0)


def test_litres_cost_as_much_as_the_cubic_feet_they_are() -> None:
    # 28.317 l to the cubic foot, exact by definition to these figures
    prices = Prices("test", {"concrete": 10.0})
    litres = Item("concrete", "concrete in place", None, 283.17, 0.0, 284, "l", "", goods="concrete")
    assert prices.line(litres) == pytest.approx(100.0, rel=1e-4)


@pytest.mark.parametrize("path", sorted(data_path("plans").glob("*.toml")), ids=lambda path: path.stem)
def test_everything_that_a_demo_plan_takes_has_an_invented_price(path: Path) -> None:
    prices = read_prices()
    bought = take_off(Study(read_plan(path)))
    assert all(prices.line(item) > 0 or item.unit == "bags" for item in bought)
    assert prices.total(bought) > 0


def test_prices_are_invented_and_say_so() -> None:
    prices = read_prices()
    assert prices.source == "invented"
    assert all(price > 0 for price in prices.each.values())
    with pytest.raises(InputError, match="gold"):
        prices.of("gold")


def test_every_size_of_lumber_has_a_price() -> None:
    sizes = {row["nominal"] for row in read_table("lumber", "sizes.csv")}
    assert sizes <= set(read_prices().each)


def test_prices_by_foot_by_volume_and_by_piece() -> None:
    prices = Prices("test", {"2x8": 2.0, "concrete": 10.0, "joist hanger": 3.0})
    lumber = Item("lumber", "2x8 southern pine No. 2", 144.0, 4.0, 0.0, 4, "pieces", "", goods="2x8")
    concrete = Item("concrete", "concrete in place", None, 2.5, 0.0, 3, "cu ft", "", goods="concrete")
    bags = Item("concrete", "bags", None, 5.0, 0.0, 5, "bags", "")
    hangers = Item("connectors", "joist hanger, 2x8", None, 7.0, 0.0, 7, "pieces", "")
    # 4 pieces of 12 ft at 2; 2.5 cu ft at 10; the same concrete in bags counts once; 7 at 3
    assert [prices.line(item) for item in (lumber, concrete, bags, hangers)] == [96.0, 25.0, 0.0, 21.0]
