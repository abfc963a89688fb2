"""The day to say and the client's page: honest words, nothing of anybody else, hostile text shown as text."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html.parser import HTMLParser
from pathlib import Path

import icalendar
import pytest
from typer.testing import CliRunner

from scheduler import api
from scheduler.cli import app
from scheduler.domain.orders import WeekInputs
from scheduler.domain.plan import Plan
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.errors import InputError
from scheduler.papers.client_page import ClientView, Milestone, client_calendar, client_html
from scheduler.search.engine import plan_week
from scheduler.shipping import figures, opening, outlook, sections, view_for_client, write_client_page

SCENARIOS = Path(__file__).resolve().parents[1] / "scenarios"
NAMES = ("solo", "midsize", "contract")


class Shown(HTMLParser):
    """The texts of a page, and its tags."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: list[str] = []
        self.tags: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note a tag."""
        self.tags.append(tag)

    def handle_data(self, data: str) -> None:
        """Note a text."""
        if "style" not in self.tags[-1:]:
            self.texts.append(data)


def shown(page: str) -> Shown:
    """A page read by a parser."""
    reader = Shown()
    reader.feed(page)
    return reader


@pytest.fixture(scope="module", params=NAMES)
def planned(request: pytest.FixtureRequest) -> tuple[WeekInputs, Week, Plan]:
    """An invented week with a plan by rule."""
    inputs = api.read_week(SCENARIOS / request.param)
    week = api.build_workload(inputs).week
    plan = plan_week(week, SearchSettings(iterations=0)).plan
    assert plan is not None
    return inputs, week, plan


def test_every_planned_order_gets_a_day(planned: tuple[WeekInputs, Week, Plan]) -> None:
    """One line an order, least sure promise first, and the sentence counts the sure ones."""
    found = outlook(*planned, confidence=0.8, replays=200, seed=1, with_slips=False)
    (table,) = sections(found)
    assert len(table.lines) == len(planned[2].orders) == len(found.days)
    kept = [int(line.cells[4].split()[0]) for line in table.lines]
    assert kept == sorted(kept)
    sure = sum(day.kept >= 0.8 * day.of for day in found.days)
    assert opening(found).startswith(f"{sure} of {len(found.days)} orders ")
    assert "start values, not on this shop's record" in table.sentences[0]


def test_a_late_day_carries_the_mark_and_the_word(planned: tuple[WeekInputs, Week, Plan]) -> None:
    """A day to say after the promised pick-up is marked; one before it is not."""
    found = outlook(*planned, confidence=0.8, replays=100, seed=1, with_slips=False)
    told = {line.cells[0]: line.cells[3] for line in sections(found)[0].lines}
    for day in found.days:
        is_late = day.say_tau is None or day.say_tau > day.promised_tau
        assert told[day.order_id].startswith("▲ late: ") == is_late


def test_the_shops_own_figures_are_said_to_be_its_own(planned: tuple[WeekInputs, Week, Plan]) -> None:
    """With an [outlook] of its own the shop is told that the odds rest on that."""
    inputs, week, plan = planned
    own = replace(inputs, shop=replace(inputs.shop, chances=replace(inputs.shop.chances, is_typed=True)))
    found = outlook(own, week, plan, confidence=0.5, replays=40, seed=1, with_slips=False)
    assert "the shop's own figures" in sections(found)[0].sentences[0]
    assert "10 in 20" in sections(found)[0].sentences[0]


def test_figures_are_plain_json(planned: tuple[WeekInputs, Week, Plan]) -> None:
    """Everything told is there for other programs, counts as counts."""
    told = json.loads(json.dumps(figures(outlook(*planned, confidence=0.8, replays=40, seed=1))))
    assert {row["of"] for row in told["orders"]} == {40}
    assert all(0 <= one["ready"] <= 40 for row in told["orders"] for one in row["odds"])


def test_no_page_holds_anything_of_anybody_else(planned: tuple[WeekInputs, Week, Plan]) -> None:
    """Over every order of the three weeks: no other order, client or design, no press, person or money."""
    inputs, week, plan = planned
    days = {day.order_id: day for day in outlook(*planned, confidence=0.8, replays=40, seed=1).days}
    secret = {press.name for press in inputs.shop.presses} | {person.name for person in inputs.shop.people}
    secret -= {word for word in secret if word.islower()}  # "press" as a common word is nobody's name
    for order in inputs.orders:
        page = client_html(view_for_client(inputs, week, plan, order.order_id, days.get(order.order_id)))
        text = " ".join(shown(page).texts)
        others = {other.order_id for other in inputs.orders} - {order.order_id}
        others |= {other.client for other in inputs.orders if other.client != order.client}
        mine = {lot.garment for lot in inputs.lots if lot.order_id == order.order_id}
        mine |= {str(lot.pieces) for lot in inputs.lots if lot.order_id == order.order_id}
        designs = {one.design_id for one in inputs.imprints if one.order_id != order.order_id}
        designs -= {one.design_id for one in inputs.imprints if one.order_id == order.order_id}
        for word in (others | secret | designs) - mine:
            assert not re.search(rf"(?<!\w){re.escape(word)}(?!\w)", text), (order.order_id, word)
        assert not re.search(r"\d[.,]\d\d\s*(USD|EUR|\$|€)|(USD|EUR|\$|€)\s*\d", text)
        assert order.client in text


def test_a_page_needs_nothing_else_and_runs_nothing(planned: tuple[WeekInputs, Week, Plan]) -> None:
    """No script, no link, no picture from elsewhere."""
    inputs, week, plan = planned
    page = client_html(view_for_client(inputs, week, plan, inputs.orders[0].order_id, None))
    assert not {"script", "link", "img", "iframe", "form", "object"} & set(shown(page).tags)
    assert "http" not in page


def hostile_view(text: str) -> ClientView:
    """A view with one text in every place a client or a shop may type."""
    return ClientView(
        shop_name=text,
        order_id=text,
        client=text,
        garments=((text, 12, text),),
        prints=((text, text, text),),
        milestones=(Milestone(what=text, day=None, state="to come"),),
        day=None,
        day_words=text,
        waits_for=(text,),
        moves=(text,),
        made_at=api.build_workload(api.read_week(SCENARIOS / "solo")).week.clock.now,
    )


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", "\u202egnp.exe", "x" * 5000, '"><img src=x onerror=alert(1)>', "{{ 7 * 7 }}"]
)
def test_hostile_text_is_shown_as_text(text: str) -> None:
    """Whatever was typed comes out as the same letters and makes no tag; right-to-left marks stay in their place."""
    page = client_html(hostile_view(text))
    read = shown(page)
    assert not {"script", "img"} & set(read.tags)
    assert sum(text in one for one in read.texts) >= 7
    assert f"<bdi>{'' if text.startswith('<') or '>' in text else text}" in page


def test_a_calendar_file_is_one_whole_day(planned: tuple[WeekInputs, Week, Plan], tmp_path: Path) -> None:
    """RFC 5545: CRLF, short lines, one event with UID and DTSTAMP, DTEND the day after; no errors when read back."""
    inputs, week, plan = planned
    days = {day.order_id: day for day in outlook(*planned, confidence=0.8, replays=40, seed=1).days}
    order_id = next(one for one, day in days.items() if day.say_tau is not None)
    view = view_for_client(inputs, week, plan, order_id, days[order_id])
    written = write_client_page(tmp_path, view)
    assert [path.suffix for path in written] == [".html", ".ics"]
    raw = written[1].read_bytes()
    assert raw.count(b"\n") == raw.count(b"\r\n")
    assert max(len(line) for line in raw.split(b"\r\n")) <= 75
    calendar = icalendar.Calendar.from_ical(raw)
    (event,) = calendar.walk("VEVENT")
    assert not event.errors
    assert {"UID", "DTSTAMP", "DTSTART", "DTEND"} <= set(event)
    assert event.decoded("dtstart") == view.day
    assert (event.decoded("dtend") - event.decoded("dtstart")).days == 1


def test_an_order_that_waits_has_no_day() -> None:
    """What is missing is named, no day is made up, and there is no calendar file."""
    inputs = api.read_week(SCENARIOS / "midsize")
    week = api.build_workload(inputs).week
    plan = plan_week(week, SearchSettings(iterations=0)).plan
    assert plan is not None
    waiting = {one.order_id for one in inputs.imprints if one.is_waiting_for_art}
    assert waiting
    view = view_for_client(inputs, week, plan, min(waiting), None)
    assert view.day is None
    assert "your word on the artwork" in view.waits_for
    assert client_calendar(view) is None
    assert "We are waiting for your word on the artwork" in " ".join(shown(client_html(view)).texts)


def test_the_commands(tmp_path: Path) -> None:
    """Both commands work from a plan that stands, and an order nobody knows is told with exit code 2."""
    run_it = CliRunner().invoke
    folder = tmp_path / "plan"
    made = run_it(app, ["plan", str(SCENARIOS / "solo"), "--seconds", "0.5", "--out", str(folder)])
    assert made.exit_code == 0, made.output
    plan = ["--plan", str(folder / "plan.json")]
    told = run_it(app, ["outlook", str(SCENARIOS / "solo"), *plan, "--replays", "60"])
    assert told.exit_code == 0, told.output
    assert "The day to say" in told.stdout
    order_id = api.read_week(SCENARIOS / "solo").orders[0].order_id
    page = run_it(app, ["client-page", str(SCENARIOS / "solo"), "--order", order_id, "--out", str(tmp_path), *plan])
    assert page.exit_code == 0, page.output
    assert (tmp_path / f"order-{order_id}.html").is_file()
    unknown = run_it(app, ["client-page", str(SCENARIOS / "solo"), "--order", "none", "--out", str(tmp_path), *plan])
    assert unknown.exit_code != 0


def test_an_order_that_is_not_there_is_told_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A wrong number is a fault with numbers to write instead, and nothing is planned before it is told."""

    def no_plan(*_: object, **__: object) -> Plan:
        raise AssertionError("it was planned first")

    monkeypatch.setattr("scheduler.shipping_commands.planned_or_read", no_plan)
    with pytest.raises(InputError) as told:
        CliRunner().invoke(
            app,
            ["client-page", str(api.demo_week()), "--order", "9999", "--out", str(tmp_path)],
            catch_exceptions=False,
            standalone_mode=False,
        )
    (problem,) = told.value.problems
    assert str(problem).startswith("there is no order 9999 in this week; write one of its orders, as 4101")
