"""How the week's dryers must be set: from what its runs need, few settings that serve many."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from scheduler.domain.shop import Dryer, Press, Shop
from scheduler.domain.week import DryerLine, DryerSetting
from scheduler.errors import Problem
from scheduler.trade.cure import CureNeed, fabric_most_f, few_settings
from scheduler.workload.axis import Axis
from scheduler.workload.inks import InkShelf
from scheduler.workload.runs import RunDraft
from scheduler.workload.spans import union

Settings = Mapping[str, tuple[DryerSetting, ...]]
"""By dryer; only dryers that are needed at more than one."""


def cure_need(draft: RunDraft, shelf: InkShelf) -> CureNeed:
    """What a run needs of its dryer: the hottest and slowest of its inks, what its least robust garment stands."""
    families = [shelf.family(one.ink.family) for one in draft.layers]
    stands = [most for lot in draft.lots if (most := fabric_most_f(lot.garment)) is not None]
    least_s = max((one.tunnel_s for one in families), default=0)
    longest = [one.most_tunnel_s for one in families if one.most_tunnel_s is not None]
    least_f = max((one.cure_f for one in families), default=0)
    most_f, most_s = min(stands, default=None), min(longest, default=None)
    return CureNeed(
        least_f=least_f,
        least_s=least_s,
        most_f=None if most_f is None else max(most_f, least_f),
        most_s=None if most_s is None else max(most_s, least_s),
    )


def dryer_settings(
    shop: Shop, shelf: InkShelf, drafts: Iterable[tuple[RunDraft, frozenset[str]]]
) -> dict[str, tuple[DryerSetting, ...]]:
    """The settings of each dryer that changes its setting; drafts come with the presses they fit."""
    found: dict[str, tuple[DryerSetting, ...]] = {}
    listed = list(drafts)
    for dryer in shop.dryers:
        if dryer.heat_min is None:
            continue
        feeding = {press.press_id for press in shop.presses if press.dryer_id == dryer.dryer_id}
        needs = [cure_need(draft, shelf) for draft, presses in listed if draft.layers and presses & feeding]
        settings = tuple(
            DryerSetting(setting_id=f"{degrees} °F, {seconds} s", temperature_f=degrees, tunnel_s=seconds)
            for degrees, seconds in few_settings(needs)
        )
        if len(settings) > 1:
            found[dryer.dryer_id] = settings
    return found


def dryer_lines(axis: Axis, settings: Settings) -> tuple[DryerLine, ...]:
    """The dryers that change their setting, as the plan sees them."""
    return tuple(
        DryerLine(
            dryer_id=one.dryer_id,
            name=one.name,
            settings=settings[one.dryer_id],
            heat_min=one.heat_min or 0,
            cool_min=one.cool_min or 0,
            switched_on_tau=_switched_on_tau(axis, one),
        )
        for one in axis.shop.dryers
        if one.dryer_id in settings
    )


def _switched_on_tau(axis: Axis, dryer: Dryer) -> tuple[int, ...]:
    """When it opens after a stop over which it is off even if all overtime is bought."""
    found: list[int] = []
    last_end: int | None = None
    opened = (*axis.heated_before[f"dryer {dryer.dryer_id}"], *axis.dryer_times[dryer.dryer_id].ever)
    for start, end in union(opened):
        if start >= 0 and (last_end is None or start - last_end >= dryer.off_after_min):
            found.append(axis.clock.tau(start))
        last_end = end
    return tuple(found)


@dataclass(frozen=True, kw_only=True)
class Curing:
    """Which settings serve a run on a press, the shortest in the tunnel first."""

    shelf: InkShelf
    settings: Settings

    def options(self, draft: RunDraft, press: Press) -> tuple[DryerSetting, ...]:
        """Settings of the press's dryer at which the run cures; none where that has one setting for all."""
        known = self.settings.get(press.dryer_id or "", ())
        need = cure_need(draft, self.shelf) if known and draft.layers else None
        able = [one for one in known if need is not None and need.is_met_by(one.temperature_f, one.tunnel_s)]
        return tuple(sorted(able, key=lambda one: (one.tunnel_s, one.temperature_f)))


def too_hot_problems(drafts: Iterable[RunDraft], shelf: InkShelf) -> list[Problem]:
    """Prints whose ink cures hotter than the fabric stands, each told once with its row."""
    told: dict[tuple[str, str], Problem] = {}
    for draft in drafts:
        for lot in draft.lots:
            most = fabric_most_f(lot.garment)
            for family in {one.ink.family: shelf.family(one.ink.family) for one in draft.layers}.values():
                if most is None or family.cure_f <= most:
                    continue
                told.setdefault(
                    (draft.order.order_id, draft.imprint.location),
                    Problem(
                        file="orders.csv",
                        row=draft.imprint.source_row,
                        column="family",
                        value=family.name,
                        code="too_hot",
                        message=f"{family.name} cures at {family.cure_f} °F; {lot.garment} stands at most {most} °F",
                        hint="print it with a low-cure ink, or on another fabric",
                    ),
                )
    return list(told.values())
