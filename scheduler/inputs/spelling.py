"""One spelling for each name: what was typed "Auto-1" in one place is "auto-1" everywhere in the week."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from scheduler.domain.shop import Closure, Shop
from scheduler.inputs.cell_kinds import by_key
from scheduler.inputs.faults import key_of
from scheduler.inputs.shop_people import COLLECTED


def spelled_shop(shop: Shop, designs: Mapping[str, str]) -> Shop:
    """The shop with every name as its own entry spells it. designs: right spellings by key."""
    presses = by_key(one.press_id for one in shop.presses)
    dryers = by_key(one.dryer_id for one in shop.dryers)
    pools = by_key(one.pool_id for one in shop.flash_pools)
    people = by_key(one.person_id for one in shop.people)
    carriers = by_key((COLLECTED, *(one.name for one in shop.carriers)))
    places = {"screens": "screens", "packing": "packing"} | people | dryers | presses

    def placed(closure: Closure) -> Closure:
        return replace(closure, what=_one(closure.what, places)) if closure.what else closure

    return replace(
        shop,
        presses=tuple(
            replace(
                one,
                dryer_id=one.dryer_id and _one(one.dryer_id, dryers),
                flash_pool=one.flash_pool and _one(one.flash_pool, pools),
                now_on=one.now_on
                and replace(one.now_on, design_id=one.now_on.design_id and _one(one.now_on.design_id, designs)),
            )
            for one in shop.presses
        ),
        people=tuple(replace(one, press_ids=_all(one.press_ids, presses)) for one in shop.people),
        overtime=tuple(
            replace(one, press_ids=_all(one.press_ids, presses), person_ids=_all(one.person_ids, people))
            for one in shop.overtime
        ),
        closures=tuple(placed(one) for one in shop.closures),
        burned=tuple(replace(one, design_id=_one(one.design_id, designs)) for one in shop.burned),
        defaults=replace(shop.defaults, carrier=_one(shop.defaults.carrier, carriers)),
    )


def _one(name: str, spelled: Mapping[str, str]) -> str:
    return spelled.get(key_of(name), name)


def _all(names: Iterable[str], spelled: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(_one(name, spelled) for name in names)
