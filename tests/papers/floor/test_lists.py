"""Pull lists, ship list, roster and chase list: every figure recomputed from the week's files and the plan."""

from __future__ import annotations

from collections import Counter, defaultdict
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from itertools import pairwise

import pytest

from scheduler.papers.cautions import STATIONS
from scheduler.papers.floor.html import list_pages
from scheduler.papers.floor.ink_list import ink_sheets, ink_uses, is_mixed
from scheduler.papers.floor.press_sheets import NO_SPARES
from scheduler.papers.floor.pull_lists import frame_days, garment_sheets, pulls
from scheduler.papers.floor.ship_list import chase_sheets, leavings, ship_sheets, station_sheets
from scheduler.papers.floor.stays import stays
from scheduler.papers.floor.who_is_where import roster_sheets
from scheduler.papers.roster_table import RosterRow, roster_rows, short_stay_rows
from scheduler.review.people_rules import minutes_with_work
from scheduler.trade.weave import usual_weave
from tests import builders as b
from tests.papers.floor.grounds import NAMES, ground, sheets_of, tables_of, wall, with_paper

INCH_M = 0.0254


@cache
def the_roster(name: str) -> tuple[RosterRow, ...]:
    """The roster of a week, worked out once."""
    of = ground(name)
    return roster_rows(of.week, of.plan)


@pytest.mark.parametrize("name", NAMES)
def test_garments_are_pulled_once_and_in_time(name: str) -> None:
    """Every lot no press has begun on is pulled once, with all its pieces, before its first cart or set-up."""
    of = ground(name)
    started = {one.run_id for one in of.week.fixings if one.kind == "started"}
    first: dict[str, datetime] = {}
    pieces: dict[str, int] = {}
    for planned in of.plan.runs:
        at = wall(of.week.clock, min(planned.stage_start_tau, planned.set_up_start_tau))
        for part in of.week.run[planned.run_id].parts:
            first[part.lot_id] = min(at, first.get(part.lot_id, at))
            pieces[part.lot_id] = part.pieces
    begun = {part.lot_id for run_id in started for part in of.week.run[run_id].parts}
    wanted = sorted((first[lot_id], pieces[lot_id]) for lot_id in first if lot_id not in begun)
    found = pulls(of)
    assert sorted((pull.pull_at, pull.pieces) for pull in found) == wanted
    clients = {lot.order_id for lot in of.inputs.lots if lot.from_client}
    assert {pull.order_id for pull in found if NO_SPARES in pull.to_know} <= clients
    rows = [row for table in tables_of(list_pages(of, "garments", garment_sheets(of))) for row in table[1:]]
    shown = [row for row in rows if len(row) > 5]
    assert [(row[1], row[5]) for row in shown] == [(f"{one.pull_at:%H:%M}", str(one.pieces)) for one in found]


@pytest.mark.parametrize("name", NAMES)
def test_ink_is_size_times_coverage_times_mesh_times_pieces(name: str) -> None:
    """Each figure is the printed area times the mesh's ink volume, hits and pieces; totals are their sums."""
    of = with_paper(ground(name), coverage_pct=60.0)
    imprints = {(one.order_id, one.location): one for one in of.inputs.imprints}
    wanted: Counter[str] = Counter()
    for planned in of.plan.runs:
        run = of.week.run[planned.run_id]
        imprint = imprints[run.order_id, run.location]
        width = imprint.width_in or of.inputs.shop.defaults.print_width_in
        height = imprint.height_in or of.inputs.shop.defaults.print_height_in
        notes = {note.screen_id: note.mesh for note in of.week.screen_set[run.set_id or ""].notes}
        for head in run.on_press[planned.press_id].stack.heads:
            weave = usual_weave(notes[head.screen_id])
            thread_m = weave.thread_um / 1e6
            pitch_m = INCH_M / notes[head.screen_id]
            volume = ((pitch_m - thread_m) / pitch_m) ** 2 * 1.5 * weave.thread_um
            share = (imprint.coverage_pct or 60.0) / 100
            area = width * INCH_M * height * INCH_M
            wanted[head.ink_id] += area * share * volume * head.hits * run.pieces  # type: ignore[assignment]
    found: Counter[str] = Counter()
    for use in ink_uses(of):
        found[use.ink_id] += use.cm3  # type: ignore[assignment]
    assert found.keys() == wanted.keys()
    assert all(found[ink_id] == pytest.approx(wanted[ink_id]) for ink_id in wanted)


@pytest.mark.parametrize("name", NAMES)
def test_ink_is_there_when_its_first_cart_is_put_together(name: str) -> None:
    """Each ink's "by when" is the first minute at which a cart or a set-up of a run with it begins."""
    of = ground(name)
    for ink_id in {use.ink_id for use in ink_uses(of)}:
        first = min(
            min(planned.stage_start_tau, planned.set_up_start_tau)
            for planned in of.plan.runs
            for head in of.week.run[planned.run_id].on_press[planned.press_id].stack.heads
            if head.ink_id == ink_id
        )
        assert min(use.by_when for use in ink_uses(of) if use.ink_id == ink_id) == wall(of.week.clock, first)


def test_the_mesh_makers_figure_wins() -> None:
    """A mesh whose ink volume the shop has typed is worked out with that, and the list says where it is from."""
    of = ground("midsize")
    frames = tuple(replace(one, ink_cm3_m2=20.0 if one.mesh == 230 else None) for one in of.inputs.shop.frames)
    told = replace(of, inputs=replace(of.inputs, shop=replace(of.inputs.shop, frames=frames)))
    before, after = ink_uses(of), ink_uses(told)
    for old, new in zip(before, after, strict=True):
        share = 20.0 / usual_weave(230).ink_cm3_m2 if new.mesh == 230 else 1.0
        assert new.cm3 == pytest.approx(old.cm3 * share)
    text = sheets_of(list_pages(told, "ink", ink_sheets(told)))[0]
    assert "230 mesh (maker's sheet, 20.0 cm³/m²)" in text
    assert "156 mesh (64 µm thread" in text


def test_the_ink_list_shows_formula_source_and_what_it_takes() -> None:
    """Formula, its sources, the mesh's figures and every size or coverage nobody typed stand on the ink list."""
    text = sheets_of(list_pages(ground("midsize"), "ink", ink_sheets(ground("midsize"))))[0]
    for words in (
        "print width x height x coverage x ink volume of the mesh x hits x pieces",
        "KC Siebdruck",
        "have no coverage: 100 % is taken",
        "156 mesh (64 µm thread",
        "cm³/m²",
        "Start values only.",
    ):
        assert words in text


@pytest.mark.parametrize(
    ("ink", "family", "mixed"),
    [
        ("PMS 186", "plastisol", True),
        ("286 C", "plastisol", True),
        ("mixed teal", "plastisol", True),
        ("red", "discharge", True),
        ("red", "plastisol", False),
        ("86 red", "plastisol", False),
    ],
)
def test_inks_that_are_mixed_are_told(ink: str, family: str, *, mixed: bool) -> None:
    """A colour number or an ink that goes off is mixed; a plain colour comes out of its can."""
    assert is_mixed(ink, family) == mixed


@pytest.mark.parametrize("name", NAMES)
def test_frames_add_up_to_the_plan(name: str) -> None:
    """Burned, coated and reclaimed frames are the plan's; what is left is what there was plus and minus them."""
    of = ground(name)
    days = frame_days(of)
    for stock in of.week.frames:
        own = [one for one in days if one.class_id == stock.class_id]
        burned = sum(
            dict(of.week.screen_set[of.week.run[one.run_id].set_id or ""].frames).get(stock.class_id, 0)
            for one in of.plan.runs
            if one.burn is not None
        )
        coated = sum(batch.count for batch in of.plan.coat_batches if batch.class_id == stock.class_id)
        back = sum(
            dict(of.week.screen_set[one.set_id].frames).get(stock.class_id, 0) for one in of.plan.reclaims
        ) + sum(count for _, class_id, count in of.week.early_reclaims if class_id == stock.class_id)
        assert (sum(d.burned for d in own), sum(d.coated for d in own), sum(d.reclaimed for d in own)) == (
            burned,
            coated,
            back,
        )
        if own:
            assert own[-1].coated_left == stock.coated_now + coated - burned
            assert own[-1].clean_left == stock.clean_now + back - coated
        assert all(one.coated_left >= 0 and one.clean_left >= 0 for one in own)


@pytest.mark.parametrize("name", NAMES)
def test_what_leaves_is_what_is_packed_in_time(name: str) -> None:
    """Every planned order leaves by the first pick-up after it is packed, with its pieces and its own carrier."""
    of = ground(name)
    found = {one.row.order_id: one for one in leavings(of)}
    assert found.keys() == of.plan.order.keys()
    typed = {order.order_id: order for order in of.inputs.orders}
    for order_id, one in found.items():
        due, packed_tau = of.week.order[order_id], of.plan.order[order_id].packed_tau
        pick_up = min(tau for tau in due.pickups_tau if tau >= packed_tau)
        assert one.pick_up_at == wall(of.week.clock, pick_up, is_end=True)
        assert one.carrier == (typed[order_id].carrier or of.inputs.shop.defaults.carrier)
        missed = sum(tau < packed_tau for tau in due.pickups_tau[due.must_leave :])
        assert one.row.late == (f"▲ late {missed} day{'s' if missed > 1 else ''}" if missed else "")
    rows = [row for table in tables_of(list_pages(of, "leaving", ship_sheets(of))) for row in table[1:]]
    assert sorted(row[1] for row in rows if len(row) > 5) == sorted(found)


@pytest.mark.parametrize("name", NAMES)
def test_whom_to_ring_is_all_there(name: str) -> None:
    """Each missing thing stands on the list once, with its client and what it holds up."""
    of = ground(name)
    assert of.chase
    text = sheets_of(list_pages(of, "ringing", chase_sheets(of.chase)))[0]
    for row in of.chase:
        assert row.client in text
        assert row.missing in text
        assert row.holds_up in text


@pytest.mark.parametrize("name", NAMES)
def test_the_roster_covers_every_minute_and_nobody_twice(name: str) -> None:
    """Whenever something is worked on, each post has a name that can fill it, and no name stands at two things."""
    of = ground(name)
    rows = the_roster(name)
    people = {person.name: person for person in of.week.people}
    for row in rows:
        assert row.person in people
    assert of.week.lead_covers == 1
    for tau, working, _ in minutes_with_work(of.week, of.plan):
        at = wall(of.week.clock, tau)
        there = [row for row in rows if row.start_at <= at < row.end_at]
        need = Counter(role for one in working for role, count in one.crew for _ in range(count))
        assert Counter(row.role for row in there) == need, at
        assert max(Counter(row.person for row in there).values()) == 1, at


@pytest.mark.parametrize("name", NAMES)
def test_who_is_where_is_the_roster_by_half_days(name: str) -> None:
    """Each minute of the roster lies in a stay at the same place, mornings end at noon, and stays do not overlap."""
    found = stays(the_roster(name))
    by_person: dict[str, list[tuple[datetime, datetime]]] = defaultdict(list)
    for stay in found:
        by_person[stay.person].append((stay.start_at, stay.end_at))
        assert stay.start_at.date() == stay.end_at.date() == stay.day
        assert (stay.half == "morning") == (stay.start_at.hour < 12)
        assert stay.half != "morning" or stay.end_at.hour * 60 + stay.end_at.minute <= 720
    for times in by_person.values():
        times.sort()
        assert all(before[1] <= after[0] for before, after in pairwise(times))
    for row in the_roster(name):
        own = [one for one in found if one.person == row.person and one.start_at < row.end_at]
        covered = sum(
            (min(one.end_at, row.end_at) - max(one.start_at, row.start_at)).total_seconds()
            for one in own
            if one.end_at > row.start_at
        )
        assert covered == (row.end_at - row.start_at).total_seconds()


@pytest.mark.parametrize("name", NAMES)
def test_everybody_who_works_stands_on_the_roster_page(name: str) -> None:
    """Each day's sheet names everybody who works that day."""
    of = ground(name)
    sheets = roster_sheets(of)
    texts = sheets_of(list_pages(of, "roster", sheets))
    days = sorted({row.start_at.date() for row in the_roster(name)})
    assert len(texts) == len(days)
    for day, text in zip(days, texts, strict=True):
        assert all(row.person in text for row in the_roster(name) if row.start_at.date() == day)


def test_short_stays_stand_above_their_day() -> None:
    """The sheet of a day names everybody who is sent to a press for less than the shop wants, and why."""
    of = ground("midsize")
    rows = short_stay_rows(of.week, of.plan)
    assert rows
    said = {sheet.title: sheet.said for sheet in roster_sheets(of)}
    days = {row.start_at.date() for row in rows}
    assert sum(bool(one) for one in said.values()) == len(days)
    for row in rows:
        minutes = (row.end_at - row.start_at).total_seconds() / 60
        assert 0 < minutes < of.week.least_stay_min
        assert any(row.text in text and text.endswith(f"; {row.why}.") for one in said.values() for text in one)


def test_a_lead_who_watches_two_presses_has_two_stays() -> None:
    """Somebody at two presses at once is told at each, from first to last minute, not minute by minute in turns."""
    at = ground("midsize").week.clock.now.replace(hour=8, minute=0)

    def row(place: str, start: int, end: int) -> RosterRow:
        times = {"start_at": at + timedelta(minutes=start), "end_at": at + timedelta(minutes=end)}
        return RosterRow(person="Ana", role="lead", place=place, activity="printing", run_or_order="1", **times)

    found = stays([row("Eight", 0, 60), row("Six", 30, 90), row("Eight", 60, 120), row("Six", 90, 150)])
    assert [one.text for one in found] == ["Eight 08:00-10:00", "Six 08:30-10:30"]


def test_visits_to_other_stations_are_told_in_and_away() -> None:
    """An order at a station stands there from and until; one that is sent out is away until it is back."""
    steps = (b.step("embroidery", before=30), b.step("outwork", after=((0, 540, 1080), (540, 1080, 1620))))
    week = b.week(
        orders=[b.order_due(stations=steps, client="Ann & Co")],
        stations=(b.station("embroidery"), b.station("outwork", units=None)),
    )
    done = b.planned_order(packed=1080, stations=b.visits(("embroidery", 0, 30), ("outwork", 90, 1080)))
    of = replace(ground("solo"), week=week, plan=b.plan(b.planned_run(at=30), orders=[done]))
    (sheet,) = station_sheets(of)
    first, second = (table.rows[0] for table in sheet.tables)
    assert first[:2] == (wall(week.clock, 0), "Mon 2 Mar 08:30")
    assert second[:2] == (wall(week.clock, 90), "away until Tue 3 Mar 17:00")
    assert (first[3], first[5], second[5]) == ("Ann & Co", "before printing", "after printing")
    assert STATIONS in sheet.cautions
    assert station_sheets(ground("solo")) == ()
