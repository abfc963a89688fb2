"""What reads the cells of each heading, for one shop: its zone, its money, its presses and carriers."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from zoneinfo import ZoneInfo

from scheduler.inputs import cells, moments, units
from scheduler.inputs.arrivals import arrival
from scheduler.inputs.cells import PressWish
from scheduler.inputs.columns import DESIGNS, ORDERS, PROGRESS, SCREENS
from scheduler.inputs.faults import CellError, key_of, nearest, one_of, quoted
from scheduler.inputs.ink_families import START_VALUES, family_name
from scheduler.inputs.shop_people import COLLECTED
from scheduler.inputs.shop_reader import FIRMNESS, UTC_ZONE, ShopRead
from scheduler.inputs.side_readers import STATES
from scheduler.inputs.stations import visits
from scheduler.inputs.typed_rows import Parsers

SHADES = {"light": "light", "lt": "light", "l": "light", "dark": "dark", "dk": "dark", "d": "dark"}


def parsers_for(sheet: str, shop: ShopRead | None) -> Parsers:
    """Heading -> what reads its cells. Without a shop that could be read, names are taken as they are."""
    zone, dates = (shop.zone, shop.dates) if shop else (UTC_ZONE, moments.EITHER)
    presses = [one.press_id for one in shop.shop.presses] if shop and "press" not in shop.in_doubt else []
    name_press = cells.known_name(by_key(presses), "press of the shop") if presses else cells.name
    shade = cells.choice(SHADES, "shade")
    mesh = cells.whole(least=10, most=600, example="156")
    of_design = {
        "design": cells.name,
        "inks": cells.inks,
        "width": units.length_in(most=100),
        "height": units.length_in(most=100, example="14 in"),
        "frame": cells.name,
        "rate": units.rate_pcs_h,
        "set_up": units.whole_minutes(most=1_440, example="30 min"),
    }
    if sheet == DESIGNS:
        return {**of_design, "preferred": _press_names(name_press)}
    if sheet == SCREENS:
        state = cells.choice(STATES, "state of screens")
        screens = cells.whole(least=1, most=1_000, example="2")
        return {"design": cells.name, "state": state, "frame": cells.name, "mesh": mesh, "screens": screens}
    if sheet == PROGRESS:
        return {
            "order": cells.name,
            "location": cells.name,
            "shade": shade,
            "press": name_press,
            "started": moments.moment(zone, dates),
            "left": cells.whole(example="190"),
            "set_up_left": units.whole_minutes(most=1_440, example="10 min"),
        }
    assert sheet == ORDERS
    return {**of_design, **_of_orders(shop, zone, dates, name_press), "shade": shade}


def _of_orders(shop: ShopRead | None, zone: ZoneInfo, dates: str, name_press: Callable[[str], str]) -> Parsers:
    today = shop.now.date() if shop and shop.now else None
    due = moments.day_or_moment(zone, dates, today)
    kinds = [kind for kind, _ in shop.shop.defaults.garment_pct] if shop else []
    return {
        "order": cells.name,
        "client": cells.name,
        "due": due,
        "in_hands": due,
        "garment": cells.name,
        "pieces": cells.whole(least=1, example="144"),
        "location": cells.name,
        "blanks": arrival("in", ("here", "in stock", "ok"), zone, dates, today),
        "art": arrival("ok", ("approved", "in"), zone, dates, today),
        "deposit": arrival("ok", ("paid", "in", "none"), zone, dates, today),
        "firm": cells.choice(FIRMNESS, "firmness"),
        "press": _press_wish(name_press),
        "sizes": cells.note,
        "mesh": cells.meshes,
        "note": cells.note,
        "carrier": _carrier(shop),
        "family": _family(shop),
        "kind": cells.known_name(by_key(kinds), "garment kind") if kinds else cells.word,
        "counted": cells.yes_no,
        "from_client": cells.yes_no,
        "coverage": cells.number(least=1, most=100, example="60 %"),
        "mock_up": cells.note,
        "pallet": cells.name,
        "print_after": cells.names,
        "between": units.whole_minutes(most=10_080),
        "split": cells.split,
        "split_sets": cells.whole(least=1, most=9, example="2"),
        "approval": cells.yes_no,
        "base": cells.yes_no,
        "run": units.whole_minutes(least=1, most=10_080, example="55 min"),
        "lock_press": name_press,
        "lock_at": moments.moment(zone, dates, today),
        "late": cells.money(shop.shop.money.currency if shop else ""),
        "finish": units.seconds(example="20 s"),
        "before": visits(None if shop is None or "stations" in shop.in_doubt else shop.shop.stations),
        "after": visits(None if shop is None or "stations" in shop.in_doubt else shop.shop.stations),
    }


def by_key(names: Iterable[str]) -> dict[str, str]:
    """Names by what their spellings have in common."""
    return {key_of(name): name for name in names}


def _press_names(name_press: Callable[[str], str]) -> Callable[[str], tuple[str, ...]]:
    return lambda text: tuple(name_press(one) for one in cells.names(text))


def _press_wish(name_press: Callable[[str], str]) -> Callable[[str], PressWish]:
    def read(text: str) -> PressWish:
        wish = cells.press_wish(text)
        return PressWish(
            allowed=tuple(name_press(one) for one in wish.allowed),
            preferred=tuple(name_press(one) for one in wish.preferred),
            never=tuple(name_press(one) for one in wish.never),
        )

    return read


def _carrier(shop: ShopRead | None) -> Callable[[str], str]:
    if shop is None or "carrier" in shop.in_doubt:
        return cells.name
    return cells.known_name(by_key((COLLECTED, *(one.name for one in shop.shop.carriers))), "carrier of the shop")


def known_families(shop: ShopRead) -> dict[str, str]:
    """Ink families the shop describes, and those with start values, by key."""
    return by_key((*(one.name for one in shop.shop.families), *START_VALUES))


def _family(shop: ShopRead | None) -> Callable[[str], str]:
    def read(text: str) -> str:
        name = family_name(text)
        if shop is not None and "ink" not in shop.in_doubt and key_of(name) not in known_families(shop):
            near = nearest(name, known_families(shop).values())
            hint = (
                f"did you mean {near}?" if near else f"{one_of(tuple(known_families(shop).values()))}, or describe it"
            )
            raise CellError("unknown_family", f"{quoted(text)} is an ink family the shop says nothing of", hint)
        return name

    return read
