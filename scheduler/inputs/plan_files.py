"""Plan files: a plan as one JSON document, and back to the very same plan.

Format version 1 (see `plan_document`). Every activity carries its times twice: as local time with offset, for people
and other programs, and as shop minutes. Where the file was made from the inputs at hand (same digest) the shop minutes
count and a local time that says something else is a fault. Where it was made from other inputs, the local times
count: the shop axis may have moved, the clock on the wall has not.

What is read back: `activities`, `overtime` and the facts about the plan. The rest (crews, orders, not planned) is
there for readers; a packing time under `orders` that contradicts its activity is a fault.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

from scheduler.domain.latest_yes import LatestYes
from scheduler.domain.orders import Announced
from scheduler.domain.plan import Burn, CoatBatch, Pencilled, Plan, PlannedOrder, PlannedRun, Reclaim
from scheduler.domain.stations import PlannedStep
from scheduler.domain.week import Week
from scheduler.errors import InputError, Problem
from scheduler.inputs.lines import Path as LinePath
from scheduler.inputs.lines import line_of, lines_of_json
from scheduler.inputs.plan_document import FORMAT, KINDS, VERSION, PlanFacts, other_inputs, plan_document
from scheduler.safe_files import write_text

__all__ = ["PlanFacts", "other_inputs", "read_announced", "read_plan", "write_plan"]

Item = dict[str, Any]

FARTHEST_TAU = 5_000_000
"""Shop minutes beyond which a number in a plan file is a slip of the pen: more than nine years."""


def write_plan(path: Path, week: Week, plan: Plan, facts: PlanFacts) -> None:
    """The plan file stands at `path`, whole or not at all. InputError where it cannot be written."""
    write_text(path, json.dumps(plan_document(week, plan, facts), indent=1, ensure_ascii=False) + "\n")


def read_plan(path: Path, week: Week) -> tuple[Plan, PlanFacts]:
    """The plan in a file, on this week's shop axis, and what the file says about it.

    Runs, orders and presses this week does not know are kept: naming them is the checker's business.
    Raises InputError with every fault of the file.
    """
    document, text = _load(path)
    reading = _Reading(path.name, text)
    facts = _facts(reading, document)
    reading.week = week
    reading.has_same_inputs = facts.digest == week.digest
    plan = _plan(reading, document)
    reading.raise_faults()
    return plan, facts


def read_announced(path: Path) -> tuple[Announced, ...]:
    """Where the plan in a file puts each run: press and moment of set-up, in wall time. InputError as `read_plan`."""
    document, text = _load(path)
    reading = _Reading(path.name, text)
    _facts(reading, document)
    found = tuple(
        Announced(
            run_id=reading.text(item, place, "run"),
            press_id=reading.text(item, place, "where"),
            set_up_at=reading.moment(item, place, "start"),
        )
        for place, item in reading.activities(document)
        if item.get("kind") == "set-up"
    )
    reading.raise_faults()
    return found


class _Reading:
    """One plan file being read: finds values, keeps every fault."""

    def __init__(self, file: str, content: str) -> None:
        self.file = file
        self.content = content
        self.week: Week | None = None
        self.has_same_inputs = True
        self.problems: list[Problem] = []

    def fault(self, place: str, value: object, code: str, message: str, hint: str) -> None:
        self.problems.append(
            Problem(file=self.file, column=place, value=str(value), code=code, message=message, hint=hint)
        )

    def raise_faults(self) -> None:
        """Raise InputError with every fault, each with its line and its place in words."""
        if not self.problems:
            return
        lines = lines_of_json(self.content)
        raise InputError(tuple(_with_line(one, lines) for one in self.problems))

    def activities(self, document: Item, within: str = "") -> list[tuple[str, Item]]:
        """(place in the file, activity) for each one that is an object of a known kind."""
        listed = document.get("activities")
        if not isinstance(listed, list):
            self.fault(
                f"{within}activities", listed, "not_a_list", "is missing or not a list", "write a list of activities"
            )
            return []
        found = []
        for number, item in enumerate(listed):
            place = f"{within}activities[{number}]"
            if not isinstance(item, dict):
                self.fault(place, item, "not_an_object", f"{item!r} is not an activity", 'write it as {"kind": ...}')
            elif item.get("kind") not in KINDS:
                hint = f"write one of {', '.join(KINDS)}"
                self.fault(f"{place}.kind", item.get("kind"), "unknown_kind", f"{item.get('kind')!r} is no kind", hint)
            else:
                found.append((place, item))
        return found

    def text(self, item: Item, place: str, key: str) -> str:
        value = item.get(key)
        if isinstance(value, str):
            return value
        self.fault(_at(place, key), value, "not_a_text", f"{value!r} is not a name", "write it in quotes")
        return ""

    def whole(self, item: Item, place: str, key: str) -> int:
        value = item.get(key)
        if isinstance(value, int) and not isinstance(value, bool):
            return value
        self.fault(_at(place, key), value, "not_a_number", f"{value!r} is not a whole number", "write it as 45")
        return 0

    def names(self, item: Item, place: str, key: str) -> tuple[str, ...]:
        value = item.get(key, [])
        if isinstance(value, list) and all(isinstance(name, str) for name in value):
            return tuple(value)
        hint = 'write it as ["white", "red"], or [] for none'
        self.fault(_at(place, key), value, "not_a_list", f"{value!r} is not a list of names", hint)
        return ()

    def moment(self, item: Item, place: str, key: str) -> datetime:
        value = item.get(key)
        if isinstance(value, str):
            try:
                moment = datetime.fromisoformat(value)
            except ValueError:
                moment = None
            if moment is not None and moment.tzinfo is not None:
                return moment
        hint = "write it with its offset, as 2026-03-02T07:00+00:00"
        self.fault(_at(place, key), value, "not_a_moment", f"{value!r} is not a moment", hint)
        return datetime.fromisoformat("1970-01-01T00:00+00:00")

    def tau(self, item: Item, place: str, edge: str) -> int:
        """Shop minute of an activity's edge ("start", "end", "dry"); see the module's first lines for which counts."""
        assert self.week is not None
        clock = self.week.clock
        before = len(self.problems)
        moment = self.moment(item, place, edge)
        if not self.has_same_inputs:
            return clock.tau_of(moment)
        tau = self.whole(item, place, f"{edge}_shop_min")
        if abs(tau) > FARTHEST_TAU:
            message = f"{tau} is years away"
            self.fault(f"{place}.{edge}_shop_min", tau, "too_far", message, f"write {clock.tau_of(moment)}")
            return 0
        if len(self.problems) == before and moment not in (clock.starts_at(tau), clock.ends_at(tau)):
            shown = clock.starts_at(tau).isoformat(timespec="minutes")
            message = f"{item[edge]!r} is not shop minute {tau}"
            hint = f"write {shown}, or shop minute {clock.tau_of(moment)}"
            self.fault(f"{place}.{edge}", item[edge], "times_differ", message, hint)
        return tau


def _with_line(one: Problem, lines: Mapping[LinePath, int]) -> Problem:
    """The fault with its line; its place told as "activities, entry 4, start"."""
    steps = [int(step) if step.isdecimal() else step for step in re.findall(r"[^.\[\]]+", one.column or "")]
    words = [f"entry {step + 1}" if isinstance(step, int) else step for step in steps]
    return replace(one, row=line_of(tuple(steps), lines), column=", ".join(words))


def _load(path: Path) -> tuple[Item, str]:
    """The file's one JSON object, and its text."""

    def broken(code: str, message: str, hint: str, row: int | None = None) -> InputError:
        return InputError((Problem(file=path.name, row=row, code=code, message=message, hint=hint),))

    try:
        text = path.read_text(encoding="utf-8-sig")
        document = json.loads(text)
    except OSError as fault:
        why = (fault.strerror or type(fault).__name__).lower()
        raise broken("cannot_read", f"cannot be read ({why})", "name a plan file, as plans/plan.json") from fault
    except UnicodeDecodeError as fault:
        raise broken("not_utf8", "is not text in UTF-8", "save it as UTF-8, or take the file as it was made") from fault
    except json.JSONDecodeError as fault:
        hint = "take the file as it was made, or mend this line"
        raise broken("not_json", f"is not JSON: {fault.msg}", hint, fault.lineno) from fault
    except (RecursionError, ValueError) as fault:  # nested too deep, or a number of thousands of digits
        raise broken("not_json", "is JSON that no plan holds", "take the file as it was made") from fault
    if not isinstance(document, dict) or document.get("format") != FORMAT:
        raise broken("not_a_plan", "is not a plan file of this program", f'its "format" must be "{FORMAT}"')
    if document.get("version") != VERSION:
        told = document.get("version")
        raise broken("other_version", f"has format version {told!r}", f"this program reads version {VERSION}")
    return document, text


def _at(place: str, key: str) -> str:
    return f"{place}.{key}" if place else key


def _facts(reading: _Reading, document: Item) -> PlanFacts:
    top = ""
    terms = document.get("cost_terms_cents", {})
    if not isinstance(terms, dict):
        reading.fault("cost_terms_cents", terms, "not_an_object", "is not a list of amounts", 'write {"late": 0}')
        terms = {}

    def amount(key: str) -> int | None:
        return None if document.get(key) is None else reading.whole(document, top, key)

    return PlanFacts(
        digest=reading.text(document, top, "inputs_digest"),
        status=reading.text(document, top, "status"),
        seed=amount("seed"),
        currency=str(document.get("currency", "")),
        cost_cents=amount("cost_cents"),
        cost_terms=tuple((name, reading.whole(terms, "cost_terms_cents", name)) for name in terms),
        lower_bound_cents=amount("lower_bound_cents"),
    )


def _plan(reading: _Reading, document: Item) -> Plan:
    found = _activities(reading, document)
    _check_orders(reading, document, found.orders)
    overtime = reading.names(document, "", "overtime")
    return replace(found, overtime=overtime, pencilled=_pencilled(reading, document.get("pencilled")))


def _pencilled(reading: _Reading, told: Any) -> Pencilled:
    """What is pencilled in; nothing where the file is older than that."""
    if told is None:
        return Pencilled()
    if not isinstance(told, dict) or not isinstance(told.get("yes", []), list):
        reading.fault("pencilled", told, "not_an_object", "is not what is pencilled in", 'write {"activities": []}')
        return Pencilled()
    found = _activities(reading, told, "pencilled.")
    yes = tuple(_yes(reading, item, f"pencilled.yes[{at}]") for at, item in enumerate(told.get("yes", [])))
    return Pencilled(runs=found.runs, orders=found.orders, coat_batches=found.coat_batches, yes=yes)


def _yes(reading: _Reading, item: Any, place: str) -> LatestYes:
    if not isinstance(item, dict):
        reading.fault(place, item, "not_an_object", f"{item!r} is not about an order", 'write it as {"order": ...}')
        return LatestYes(order_id="", latest_tau=None)
    return LatestYes(
        order_id=reading.text(item, place, "order"),
        latest_tau=reading.tau(item, place, "yes_by") if "yes_by" in item else None,
        promised_tau=reading.tau(item, place, "must_leave") if "must_leave" in item else None,
        why=reading.text(item, place, "why"),
        missed=reading.whole(item, place, "missed"),
        is_proven=item.get("is_proven") is not False,
    )


def _activities(reading: _Reading, document: Item, within: str = "") -> Plan:
    """Runs, orders and the screen room's batches of a list of activities."""
    by_kind: dict[str, list[tuple[str, Item]]] = {kind: [] for kind in KINDS}
    for place, item in reading.activities(document, within):
        by_kind[item["kind"]].append((place, item))
    of_run = {kind: _by_run(reading, by_kind[kind], kind) for kind in ("stage", "burn", "tape", "set-up", "print")}
    runs = tuple(_run(reading, run_id, of_run) for run_id in of_run["set-up"])
    for kind in ("stage", "burn", "tape", "print"):
        for run_id, (place, _) in of_run[kind].items():
            if run_id not in of_run["set-up"]:
                message = f"run {run_id!r} has no set-up"
                reading.fault(place, run_id, "no_set_up", message, "give it one, or remove this")
    orders = tuple(
        PlannedOrder(
            order_id=reading.text(item, place, "order"),
            finish_start_tau=reading.tau(item, place, "start"),
            packed_tau=reading.tau(item, place, "end"),
            stations=tuple(
                PlannedStep(
                    station_id=reading.text(visit, at, "where"),
                    start_tau=reading.tau(visit, at, "start"),
                    end_tau=reading.tau(visit, at, "end"),
                )
                for at, visit in by_kind["station"]
                if visit.get("order") == item.get("order")
            ),
        )
        for place, item in by_kind["finish"]
    )
    return Plan(
        runs=runs,
        orders=orders,
        coat_batches=tuple(
            CoatBatch(
                window_id=reading.text(item, place, "where"),
                class_id=reading.text(item, place, "frame_class"),
                count=reading.whole(item, place, "frames"),
            )
            for place, item in by_kind["coat"]
        ),
        reclaims=tuple(
            Reclaim(
                set_id=reading.text(item, place, "set"),
                after_run_id=reading.text(item, place, "after_run"),
                block_id=reading.text(item, place, "where"),
            )
            for place, item in by_kind["reclaim"]
        ),
    )


def _by_run(reading: _Reading, items: list[tuple[str, Item]], kind: str) -> dict[str, tuple[str, Item]]:
    """Activities of one kind by run; a second one for the same run is a fault."""
    found: dict[str, tuple[str, Item]] = {}
    for place, item in items:
        run_id = reading.text(item, place, "run")
        if run_id in found:
            hint = f"keep one of {found[run_id][0]} and {place}"
            reading.fault(place, run_id, "twice", f"run {run_id!r} has two activities {kind!r}", hint)
        else:
            found[run_id] = (place, item)
    return found


def _run(reading: _Reading, run_id: str, of_run: dict[str, dict[str, tuple[str, Item]]]) -> PlannedRun:
    place, set_up = of_run["set-up"][run_id]
    set_up_start = reading.tau(set_up, place, "start")
    set_up_end = reading.tau(set_up, place, "end")
    print_start = print_end = set_up_end
    way = 0
    if run_id in of_run["print"]:
        print_place, printing = of_run["print"][run_id]
        print_start = reading.tau(printing, print_place, "start")
        print_end = reading.tau(printing, print_place, "end")
        way = reading.whole(printing, print_place, "way") if "way" in printing else 0
    else:
        reading.fault(place, run_id, "no_print", f"run {run_id!r} is set up but never printed", "give it a print")
    stage_start = stage_end = set_up_start
    if run_id in of_run["stage"]:
        stage_place, stage = of_run["stage"][run_id]
        stage_start = reading.tau(stage, stage_place, "start")
        stage_end = reading.tau(stage, stage_place, "end")
    return PlannedRun(
        run_id=run_id,
        press_id=reading.text(set_up, place, "where"),
        stage_start_tau=stage_start,
        stage_end_tau=stage_end,
        set_up_start_tau=set_up_start,
        set_up_end_tau=set_up_end,
        set_up_min=reading.whole(set_up, place, "work_min"),
        print_start_tau=print_start,
        print_end_tau=print_end,
        kept_inks=reading.names(set_up, place, "kept_inks"),
        burn=_burn(reading, run_id, of_run),
        reason=str(set_up.get("reason", "")),
        way=way,
    )


def _burn(reading: _Reading, run_id: str, of_run: dict[str, dict[str, tuple[str, Item]]]) -> Burn | None:
    if (run_id in of_run["burn"]) != (run_id in of_run["tape"]):
        kind = "burn" if run_id in of_run["burn"] else "tape"
        place = of_run[kind][run_id][0]
        reading.fault(place, run_id, "half_a_burn", f"run {run_id!r} has a {kind} alone", "give it a burn and a tape")
        return None
    if run_id not in of_run["burn"]:
        return None
    place, burn = of_run["burn"][run_id]
    tape_place, tape = of_run["tape"][run_id]
    return Burn(
        start_tau=reading.tau(burn, place, "start"),
        end_tau=reading.tau(burn, place, "end"),
        dry_tau=reading.tau(burn, place, "dry"),
        tape_start_tau=reading.tau(tape, tape_place, "start"),
        tape_end_tau=reading.tau(tape, tape_place, "end"),
    )


def _check_orders(reading: _Reading, document: Item, orders: tuple[PlannedOrder, ...]) -> None:
    """A packing time told twice is told alike, so nobody edits the one that does not count."""
    packed = {order.order_id: order.packed_tau for order in orders}
    listed = document.get("orders", [])
    for number, item in enumerate(listed if isinstance(listed, list) else []):
        order_id = item.get("order") if isinstance(item, dict) else None
        if not isinstance(order_id, str) or order_id not in packed or not reading.has_same_inputs:
            continue
        told = item.get("packed_shop_min")
        if told is not None and told != packed[order_id]:
            hint = f"write {packed[order_id]}, or change the finish activity too"
            message = f"{told!r} is not when its finish activity ends"
            reading.fault(f"orders[{number}].packed_shop_min", told, "times_differ", message, hint)
