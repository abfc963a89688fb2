"""A print location split into runs: its garments dealt out, in the order of the sizes typed."""

from pathlib import Path

import pytest

from scheduler.domain.orders import Imprint, WeekInputs
from scheduler.inputs.sizes import cut_sizes
from tests.inputs.test_week_details import LEAST_SHOP, read, told_of
from tests.inputs.weeks import Files

HEAD = "order,client,due,garment,shade,pieces,location,inks,blanks,art,sizes,split,split sets\n"


def _files(*rows: str) -> Files:
    return {"shop.toml": LEAST_SHOP, "orders.csv": HEAD + "".join(f"{row}\n" for row in rows)}


def _row(location: str = "front", *, garment: str = "navy tee", pieces: int = 1000, more: str = "") -> str:
    return f"1,Ann,2026-03-06,{garment},dark,{pieces},{location},white,in,ok,{more}"


def _shares(found: WeekInputs) -> list[tuple[str, int, str, str]]:
    return [(lot.lot_id, lot.pieces, lot.sizes, lot.share) for lot in found.lots]


def _of(found: WeekInputs, location: str) -> Imprint:
    return next(one for one in found.imprints if one.location == location)


def test_a_split_deals_out_pieces_and_sizes(tmp_path: Path) -> None:
    """600+400 makes two lots of the garments, sizes in the order typed, one size cut where the sum falls."""
    found = read(tmp_path, _files(_row(more='"S 200, M 500, L 300",600+400,')))
    assert _shares(found) == [
        ("1 navy tee (1 of 2)", 600, "S 200, M 400", "S 200, M 400"),
        ("1 navy tee (2 of 2)", 400, "M 100, L 300", "M 100, L 300"),
    ]
    assert _of(found, "front").split == (("1 navy tee (1 of 2)",), ("1 navy tee (2 of 2)",))
    assert _of(found, "front").split_sets == 1


def test_other_locations_see_the_same_shares(tmp_path: Path) -> None:
    """A location that is not split prints all shares in one go; two splits of one lot cut it at both places."""
    found = read(tmp_path, _files(_row(more=",600+400,2"), _row("back", more=",,"), _row("neck", more=",300 + 700,")))
    assert [lot.pieces for lot in found.lots] == [300, 300, 400]
    one, two, three = (lot.lot_id for lot in found.lots)
    assert (_of(found, "front").split, _of(found, "front").split_sets) == (((one, two), (three,)), 2)
    assert (_of(found, "back").split, _of(found, "back").lot_ids) == ((), (one, two, three))
    assert _of(found, "neck").split == ((one,), (two, three))
    assert _of(found, "front").set_names == ("1 front", "1 front (set 2)")
    assert _of(found, "back").set_names == ("1 back",)


def test_a_split_runs_over_all_garments_of_the_location(tmp_path: Path) -> None:
    """Garments in the order typed: the second run may take what is left of one kind and all of the next."""
    rows = (_row(pieces=100, more=",90+60,"), _row(garment="black tee", pieces=50, more=",,"))
    found = read(tmp_path, _files(*rows))
    assert [(lot.garment, lot.pieces) for lot in found.lots] == [("navy tee", 90), ("navy tee", 10), ("black tee", 50)]
    assert _of(found, "front").split[1] == ("1 navy tee (2 of 2)", "1 black tee")


def test_without_a_split_nothing_is_cut(tmp_path: Path) -> None:
    """Lots keep their names and sizes."""
    found = read(tmp_path, _files(_row(more='"S 200, M 800",,')))
    assert _shares(found) == [("1 navy tee", 1000, "S 200, M 800", "")]
    assert _of(found, "front").split == ()


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (",600+399,", "split: '600+399' makes 999 pieces, not 1000; correct the split or the pieces"),
        (",600+401,", "split: '600+401' makes 1001 pieces, not 1000; correct the split or the pieces"),
        (",1000,", "split: '1000' makes one run only; write the pieces of each run, as 600+400, or leave it empty"),
        (",1000+0,", "split: '0' is less than 1; write 1 or more"),
        (",600 and 400,", "split: '600 and 400' makes one run only; write the pieces of each run, as 600+400,"),
        (",,2", "split_sets: several sets for one run; write the pieces of each run under split, as 600+400, or"),
        (",600+400,3", "split_sets: 3 sets of screens are more than its 2 runs; write 2 or less"),
    ],
)
def test_splits_that_cannot_be(tmp_path: Path, more: str, told: str) -> None:
    """Each is one fault with what to write instead; the sum is held to the piece."""
    (problem,) = told_of(tmp_path, _files(_row(more=more)))
    assert problem.startswith(f"orders.csv:2:{told}")


def test_pieces_nobody_has_told_hide_no_fault(tmp_path: Path) -> None:
    """Where pieces are "?" the order waits: there is no sum to check yet."""
    found = read(tmp_path, _files("1,Ann,2026-03-06,navy tee,dark,?,front,white,in,ok,,600+400,"))
    assert found.orders[0].untold == ("pieces not told yet: navy tee",)


@pytest.mark.parametrize(
    ("sizes", "pieces", "shares"),
    [
        ("S 5, M 5", (5, 5), ("S 5", "M 5")),
        ("S 5, M 5", (4, 6), ("S 4", "S 1, M 5")),
        ("S 5, M 5", (4, 5), ("", "")),
        ("all in the green box", (4, 6), ("", "")),
        ("", (4, 6), ("", "")),
        ("S 0, M 10", (1, 9), ("M 1", "M 9")),
    ],
)
def test_sizes_go_to_the_shares_in_order(sizes: str, pieces: tuple[int, ...], shares: tuple[str, ...]) -> None:
    """A size goes on in the next share where it does not fit whole; what cannot be added up is not dealt out."""
    assert cut_sizes(sizes, pieces) == shares
