from dataclasses import replace

import pytest

from scheduler.domain.plan import Plan
from scheduler.papers.summary import TERM_NAMES, Beside, how_good, opening_line, plan_sections
from scheduler.papers.text import section_text
from scheduler.review.measures import cost
from tests import builders
from tests.papers import small_shop


def report(plan: Plan | None = None) -> dict[str, str]:
    """The small shop's report: text by title."""
    week = small_shop.week()
    made = plan_sections(week, plan or small_shop.plan(), currency="EUR", clients={"1046": "Tide & Co"})
    return {section.title: "\n".join(section_text(section)) for section in made}


def test_the_report_starts_with_what_hurts() -> None:
    """Late orders come first, then what is not planned, then each press, screens, carts, orders, money."""
    assert list(report()) == [
        "Late orders",
        "Not planned",
        "Big Eight: queue",
        "Manual: queue",
        "Screen room: what to coat, burn and reclaim",
        "Carts to stage",
        "When each order is ready",
        "What the plan costs",
        "How good is this plan",
    ]


def test_a_late_order_says_why_and_what_it_costs() -> None:
    """The late order's line has mark, days, both moments and money, and its reason stands under it."""
    assert report()["Late orders"].splitlines()[2:] == [
        "▲ late 1 day  1042   Harbour Run Club  firm  Mon 2 Mar 11:38  Mon 2 Mar 11:20     400.00",
        "    why: back comes off Big Eight Mon 2 Mar 11:30: its garments come off the front print",
    ]


def test_no_late_order_is_said_too() -> None:
    """Where nothing is late, the report says so instead of leaving a gap."""
    week = builders.week()
    sections = plan_sections(week, builders.plan(builders.planned_run()))
    assert sections[0].sentences == ("None: every planned order makes its pick-up.",)


def test_what_waits_names_its_client() -> None:
    """An order that waits is told with the client to ring and the reason."""
    assert report()["Not planned"].splitlines()[-1] == "1046   Tide & Co  all   art: nobody knows when"


def test_every_run_of_the_queue_has_its_reason() -> None:
    """Each run is one line, and under it why it stands there."""
    told = report()["Big Eight: queue"].splitlines()
    assert sum(line.startswith(("Mon", "Tue")) for line in told) == 4
    assert sum("why: " in line for line in told) == 4


def test_a_slowed_or_started_run_says_so() -> None:
    """A run the belt slows down, and one that is under way, are marked in the queue."""
    choice = replace(builders.choice(), slowed_to_pcs_h=240)
    fixing = builders.fixing("r1", "started", press_id="P1", at=0, left=0)
    week = builders.week(runs=[builders.run(choices=(choice,))], fixings=(fixing,))
    text = "\n".join(
        line for one in plan_sections(week, builders.plan(builders.planned_run())) for line in section_text(one)
    )
    assert "started; slowed to 240/h by the belt" in text


def test_screens_are_told_with_ready_and_needed() -> None:
    """A burn's line says when the set is taped and when somebody waits for it; so does the coating it needs."""
    week = small_shop.week()
    (section,) = [one for one in plan_sections(week, small_shop.plan()) if one.title.startswith("Screen room")]
    assert [line.cells for line in section.lines][2:4] == [
        ("Mon 2 Mar 16:00", "coat 1", "23x31/230, first for the burn of 1044 front", "", "17:00", "Tue 08:00"),
        ("Tue 3 Mar 08:00", "burn 2", "badge, 1044 front", "Big Eight", "09:28", "09:40"),
    ]


def test_reclaiming_is_one_line_a_time() -> None:
    """All sets reclaimed in one block are one line with all their screens, old ones included."""
    week = replace(small_shop.week(), early_reclaims=(("reclaim Tue", "23x31/156", 2),))
    (section,) = [one for one in plan_sections(week, small_shop.plan()) if one.title.startswith("Screen room")]
    told = [" ".join(line.split()) for line in section_text(section)]
    assert [line for line in told if "reclaim" in line] == [
        "Tue 3 Mar 09:00 reclaim 3 2 old of 23x31/156 and route 10:00"
    ]


def test_coating_for_stock_is_left_out_and_said_so() -> None:
    """Coating no burn waits for does not hide what matters, and its absence is told."""
    week = small_shop.week()
    plenty = replace(week, frames=tuple(replace(stock, coated_now=9) for stock in week.frames))
    (section,) = [one for one in plan_sections(plenty, small_shop.plan()) if one.title.startswith("Screen room")]
    assert section.sentences == ("Coating that no burn of this plan waits for is left out here.",)
    assert not any(line.cells[1].startswith("coat") for line in section.lines)


def test_the_cost_adds_up_in_the_shops_money() -> None:
    """Every term is shown in shop words and they sum to the last line."""
    lines = [line.rsplit(maxsplit=1) for line in report()["What the plan costs"].splitlines()[2:]]
    assert [name for name, _ in lines] == [*TERM_NAMES.values(), "together"]
    amounts = [round(float(amount.replace(",", "")) * 100) for _, amount in lines]
    assert sum(amounts[:-1]) == amounts[-1] == cost(small_shop.week(), small_shop.plan()).total


def test_every_cost_term_has_a_shop_word() -> None:
    """No term of the cost is shown by its name in the code."""
    assert set(TERM_NAMES) == set(cost(small_shop.week(), small_shop.plan()).terms)


def test_overtime_to_arrange_is_listed() -> None:
    """Bought overtime is told with its hours and price; what is not bought is not."""
    block = builders.overtime("late Mon", price_cents=39_000)
    other = builders.overtime("late Tue", start=1020, end=1080)
    week = builders.week(overtime=(block, other))
    plan = builders.plan(builders.planned_run(), overtime=("late Mon",))
    (section,) = [one for one in plan_sections(week, plan, currency="USD") if one.title == "Overtime to arrange"]
    assert section_text(section)[2:] == ["Mon 2 Mar 16:00  17:00  late Mon  390.00 USD"]


@pytest.mark.parametrize(
    ("above", "told"),
    [
        (31_240, "At most 312.40 EUR above the cheapest plan possible."),
        (0, "No cheaper plan exists for these orders and hours."),
        (-5, "No cheaper plan exists for these orders and hours."),
    ],
)
def test_how_good_is_told_in_money(above: int, told: str) -> None:
    """The plan's distance from the cheapest possible is told in the shop's money."""
    week, plan = small_shop.week(), small_shop.plan()
    bound = cost(week, plan).total - above
    assert how_good(week, plan, "EUR", Beside(lower_bound_cents=bound)).sentences == (told,)


def test_the_due_date_list_stands_beside() -> None:
    """What working by due date would cost more, and how many orders it would make late, is told."""
    week = builders.week(orders=[builders.order_due("or1", late_cents=5_000, pickups_tau=(100, 540))])
    good = builders.plan(builders.planned_run(), orders=[builders.planned_order(packed=60)])
    bad = builders.plan(builders.planned_run(at=100), orders=[builders.planned_order(packed=160)])
    assert how_good(week, good, "EUR", Beside(baseline=bad)).sentences == (
        "Working the orders off by due date would cost 50.00 EUR more, with 1 order late.",
    )
    assert how_good(week, good, "EUR", Beside(baseline=good)).sentences == (
        "Working the orders off by due date would cost the same, with no order late.",
    )


def test_the_plan_in_one_sentence() -> None:
    """The first line counts runs, orders, late ones and those not planned."""
    assert opening_line(small_shop.week(), small_shop.plan()) == (
        "5 runs of 3 orders planned, 1 late; 1 order not planned, in whole or in part."
    )


def test_the_report_fits_a_hundred_columns() -> None:
    """No line of the report is longer than 100 letters."""
    assert max(len(line) for text in report().values() for line in text.splitlines()) <= 100
