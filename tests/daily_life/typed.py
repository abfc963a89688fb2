"""Weeks as a shop types them, and the plan that comes of them: pieces of shop.toml, a sheet of orders, clock times.

All shops here are invented. They open Monday 2 March 2026, when the planning starts; nobody is named unless a test
names them, so that people are not asked for.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from textwrap import dedent

from scheduler import api
from scheduler.domain.plan import Plan, PlannedRun
from scheduler.domain.settings import SearchSettings
from scheduler.domain.week import Week
from scheduler.roster.by_name import roster
from scheduler.workload.build import Workload

SCREENS = """
    [screen_room]
    crew = "none"
    ready_ahead = "0 min"
    """
"""A screen room that has room and coated frames for everything: burned, dried and taped in a good hour."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Day:
    """A planned week, asked in clock times: "Mon 10:40"."""

    workload: Workload
    plan: Plan

    @property
    def week(self) -> Week:
        """The week that was planned."""
        return self.workload.week

    def run(self, run_id: str) -> PlannedRun:
        """A run, named by order, location and shade: "101 front dark"."""
        return self.plan.run[run_id]

    def queue(self, press_id: str) -> list[str]:
        """What a press prints, in order."""
        return [one.run_id for one in self.plan.queue.get(press_id, ())]

    def mounts_at(self, run_id: str) -> str:
        """When the set-up of a run begins."""
        return self._starts(self.run(run_id).set_up_start_tau)

    def prints_at(self, run_id: str) -> str:
        """When its first piece is printed."""
        return self._starts(self.run(run_id).print_start_tau)

    def done_at(self, run_id: str) -> str:
        """When its last piece is printed."""
        return self._ends(self.run(run_id).print_end_tau)

    def packed_at(self, order_id: str) -> str:
        """When an order is packed."""
        return self._ends(self.plan.order[order_id].packed_tau)

    def print_min(self, run_id: str) -> int:
        """Press minutes of a run from its first piece to its last, nights not counted."""
        one = self.run(run_id)
        return one.print_end_tau - one.print_start_tau

    def who(self, press_id: str, hour: int, minute: int) -> list[str]:
        """Who stands at a press at a time of the first day."""
        clock = self.week.clock
        tau = clock.tau_of(clock.now.replace(hour=hour, minute=minute))
        at_press = [one for one in roster(self.week, self.plan) if one.place == press_id]
        return [one.person_id or "" for one in at_press if one.start_tau <= tau < one.end_tau]

    @property
    def late(self) -> list[str]:
        """Orders that miss the pick-up they must leave by."""
        return [one.order_id for one in api.measure(self.week, self.plan).late_orders]

    def _starts(self, tau: int) -> str:
        return f"{self.week.clock.starts_at(tau):%a %H:%M}"

    def _ends(self, tau: int) -> str:
        return f"{self.week.clock.ends_at(tau):%a %H:%M}"


def shop(
    *parts: str, hours: str = "08:00-16:00", days_ahead: int = 10, kept_free_min: int = 0, defaults: str = ""
) -> str:
    """The text of a shop.toml: open Monday to Friday, packing in no time, no room kept free, and these parts."""
    head = f"""
        name = "Daily life"
        zone = "Europe/Lisbon"
        plan_from = "2026-03-02 08:00"
        days_ahead = {days_ahead}
        """
    rest = f"""
        [hours]
        mon-fri = "{hours}"
        [defaults]
        finish_each = "0 s"
        {defaults}
        [room_kept_free]
        minutes = "{kept_free_min} min"
        """
    return "\n".join(dedent(part) for part in (head, rest, *parts))


def automatic(press_id: str = "auto-1", *lines: str, heads: int = 8, rate: str = "400/h") -> str:
    """An automatic with a flash of its own and its common set-up minutes, and these lines more."""
    return _press(press_id, "automatic", heads, rate, lines)


def manual(press_id: str = "manual", *lines: str, heads: int = 4, rate: str = "60/h") -> str:
    """A manual with a flash over a pallet, and these lines more."""
    return _press(press_id, "manual", heads, rate, lines)


def _press(press_id: str, kind: str, heads: int, rate: str, lines: tuple[str, ...]) -> str:
    stated = [f'stated_rate = "{rate}"'] if rate else []
    rows = ["[[press]]", f'id = "{press_id}"', f'kind = "{kind}"', f"heads = {heads}", *stated, *lines]
    return "\n".join(rows)


def burned(*designs: str) -> str:
    """The sheet of screens: these designs hang burned."""
    return "\n".join(["design,state", *(f"{design},burned" for design in designs)])


def plan(folder: Path, shop_text: str, orders: str, *, iterations: int = 150, **files: str) -> Day:
    """The week of these texts, read, planned and checked. files: further sheets, as progress="order,location,..."."""
    workload = work(folder, shop_text, orders, **files)
    result = api.plan_week(workload, SearchSettings(iterations=iterations, workers=1))
    assert result.plan is not None, result.reason
    return Day(workload=workload, plan=result.plan)


def work(folder: Path, shop_text: str, orders: str, **files: str) -> Workload:
    """The question these texts ask, not planned yet."""
    texts = {"shop.toml": shop_text, "orders.csv": orders, **{f"{name}.csv": text for name, text in files.items()}}
    for name, text in texts.items():
        (folder / name).write_text(dedent(text).strip() + "\n", encoding="utf-8")
    return api.build_workload(api.read_week(folder))
