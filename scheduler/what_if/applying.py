"""A week with what-ifs in it: the inputs as they would have been typed, had all of it been known."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import timedelta

from scheduler.domain.orders import Lot, WeekInputs
from scheduler.domain.shop import Closure, OvertimeOffer, Press, Shop
from scheduler.domain.week import Week
from scheduler.domain.what_if import (
    ArtMoved,
    BlanksMoved,
    Cancelled,
    DateMoved,
    HoursOpened,
    InkOut,
    OutOfUse,
    PiecesChanged,
    PrintChanged,
    Reprint,
    Rush,
    ScreenBroken,
    WhatIf,
)
from scheduler.errors import InputError, Problem

AGAIN = "again"
"""What stands behind the name of an order that is printed again, and of a design whose screens are burned again."""
OVERTIME_PCT = 150
"""What an hour of overtime costs where no price was named, against an ordinary hour. Common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edited:
    """Inputs with the what-ifs in them. order_ids: orders that came in. told: what was assumed."""

    inputs: WeekInputs
    order_ids: tuple[str, ...] = ()
    told: tuple[str, ...] = ()


def edited(inputs: WeekInputs, what_ifs: Iterable[WhatIf]) -> Edited:
    """The inputs with every what-if in them, one after the other; torn screens and missing inks as `resolved` has them.

    Raises InputError with every what-if that cannot be meant.
    """
    found = Edited(inputs=inputs)
    problems: list[Problem] = []
    asked = tuple(what_ifs)
    for one in asked:
        try:
            found = _with(found, one)
        except InputError as fault:
            problems += fault.problems
    if problems:
        raise InputError(tuple(problems))
    return replace(found, inputs=replace(found.inputs, digest=digest_with(inputs.digest, asked)))


def digest_with(digest: str, what_ifs: tuple[WhatIf, ...]) -> str:
    """Sum over the inputs and what was tried on them."""
    return hashlib.sha256(f"{digest} {what_ifs!r}".encode()).hexdigest() if what_ifs else digest


def _with(now: Edited, one: WhatIf) -> Edited:
    inputs = now.inputs
    match one:
        case Rush():
            return replace(now, inputs=_with_rush(inputs, one), order_ids=(*now.order_ids, one.order.order_id))
        case Reprint():
            rush = _reprint(inputs, one)
            return replace(now, inputs=_with_rush(inputs, rush), order_ids=(*now.order_ids, rush.order.order_id))
        case Cancelled():
            return replace(now, inputs=_without(inputs, one.order_id))
        case PiecesChanged():
            lot = _lot(inputs, one.order_id, one.garment)
            lots = tuple(replace(lot, pieces=one.pieces, sizes="") if kept is lot else kept for kept in inputs.lots)
            return replace(now, inputs=replace(inputs, lots=lots))
        case DateMoved():
            orders = tuple(
                replace(order, due_at=one.due_at, due_kind=one.due_kind or order.due_kind)
                if order.order_id == one.order_id
                else order
                for order in inputs.orders
            )
            return replace(now, inputs=replace(inputs, orders=orders))
        case BlanksMoved() | ArtMoved():
            return replace(now, inputs=_arriving(inputs, one))
        case OutOfUse():
            return replace(now, inputs=_closed(inputs, one))
        case HoursOpened():
            return _opened(now, one)
        case ScreenBroken():
            return replace(now, inputs=_frame_less(inputs, one))
        case PrintChanged():
            return replace(now, inputs=_print_changed(inputs, one))
    return now


def _with_rush(inputs: WeekInputs, rush: Rush) -> WeekInputs:
    if any(order.order_id == rush.order.order_id for order in inputs.orders):
        raise _fault("order_twice", f"order {rush.order.order_id} is in the week already", "give it another number")
    return replace(
        inputs,
        orders=(*inputs.orders, rush.order),
        lots=(*inputs.lots, *rush.lots),
        imprints=(*inputs.imprints, *rush.imprints),
    )


def _reprint(inputs: WeekInputs, one: Reprint) -> Rush:
    """An order of its own with the same promise, on other garments of the same kind, from the same screens."""
    order = next((order for order in inputs.orders if order.order_id == one.order_id), None)
    if order is None:
        raise _fault("no_such_order", f"order {one.order_id} is not in the week any more", "leave one of the two out")
    lot = _lot(inputs, one.order_id, one.garment)
    own_id, lot_id = f"{one.order_id} {AGAIN}", f"{lot.lot_id} {AGAIN}"
    imprints = tuple(
        replace(
            imprint,
            order_id=own_id,
            lot_ids=(lot_id,),
            lock_press=None,
            lock_at=None,
            stated_run_min=None,
            print_after=imprint.print_after if one.location is None else (),
        )
        for imprint in inputs.imprints
        if imprint.order_id == one.order_id
        and lot.lot_id in imprint.lot_ids
        and one.location in (None, imprint.location)
    )
    if not imprints:
        text = f"order {one.order_id} has no print there on {lot.garment}"
        raise _fault("no_such_print", text, "name another garment or location")
    again = replace(
        lot, lot_id=lot_id, order_id=own_id, pieces=one.pieces, blanks_at=one.blanks_at, is_waiting=False, sizes=""
    )
    return Rush(order=replace(order, order_id=own_id), lots=(again,), imprints=imprints)


def _without(inputs: WeekInputs, order_id: str) -> WeekInputs:
    return replace(
        inputs,
        orders=tuple(one for one in inputs.orders if one.order_id != order_id),
        lots=tuple(one for one in inputs.lots if one.order_id != order_id),
        imprints=tuple(one for one in inputs.imprints if one.order_id != order_id),
        progress=tuple(one for one in inputs.progress if one.order_id != order_id),
    )


def _lot(inputs: WeekInputs, order_id: str, garment: str | None) -> Lot:
    own = [lot for lot in inputs.lots if lot.order_id == order_id and garment in (None, lot.garment)]
    if len(own) != 1:
        kinds = ", ".join(lot.garment for lot in own) or "none"
        text = f"order {order_id} has several garments ({kinds})"
        raise _fault("which_garment", text, "name the garment")
    return own[0]


def _arriving(inputs: WeekInputs, one: BlanksMoved | ArtMoved) -> WeekInputs:
    if isinstance(one, BlanksMoved):
        lots = tuple(
            replace(lot, blanks_at=one.at, is_waiting=one.at is None)
            if lot.order_id == one.order_id and one.garment in (None, lot.garment)
            else lot
            for lot in inputs.lots
        )
        return replace(inputs, lots=lots)
    imprints = tuple(
        replace(imprint, art_at=one.at, is_waiting_for_art=one.at is None)
        if imprint.order_id == one.order_id and one.location in (None, imprint.location)
        else imprint
        for imprint in inputs.imprints
    )
    return replace(inputs, imprints=imprints)


def _closed(inputs: WeekInputs, one: OutOfUse) -> WeekInputs:
    """A press without its flash stands closed as long; if that stays out all the planned days, it has one less."""
    shop = inputs.shop
    what = "press" if one.kind == "flash" else one.kind
    last = shop.plan_from + timedelta(days=max(0, shop.days_ahead - 1))
    if one.kind == "flash" and one.to_at.date() > last.date():
        presses = tuple(
            replace(press, flashes=max(0, press.flashes - 1)) if press.press_id == one.thing_id else press
            for press in shop.presses
        )
        return replace(inputs, shop=replace(shop, presses=presses))
    closure = Closure(what=one.thing_id, from_at=one.from_at, to_at=one.to_at, why=f"{what} out")
    return replace(inputs, shop=replace(shop, closures=(*shop.closures, closure)))


def _opened(now: Edited, one: HoursOpened) -> Edited:
    shop = now.inputs.shop
    price, told = one.price_cents, now.told
    if price is None:
        heads = len(one.person_ids or shop.people) or _crew_of(shop.presses, one.press_ids)
        price = round(heads * (one.to_min - one.from_min) / 60 * shop.money.person_hour_cents * OVERTIME_PCT / 100)
        said = f"{price / 100:,.2f} {shop.money.currency}".rstrip()
        told = (
            *told,
            f"{one.day.isoformat()}: {heads} people at {OVERTIME_PCT} % of an ordinary hour, {said}, assumed",
        )
    offer = OvertimeOffer(
        day=one.day,
        from_min=one.from_min,
        to_min=one.to_min,
        price_cents=price,
        press_ids=one.press_ids,
        person_ids=one.person_ids,
    )
    last = shop.plan_from.date() + timedelta(days=max(0, shop.days_ahead - 1))
    if not shop.plan_from.date() <= one.day <= last:
        text = f"{one.day.isoformat()} is not among the planned days, which end {last.isoformat()}"
        raise _fault("no_such_day", text, "name one of them, or plan more days ahead")
    return replace(now, told=told, inputs=replace(now.inputs, shop=_with_offer(shop, offer)))


def _with_offer(shop: Shop, offer: OvertimeOffer) -> Shop:
    return replace(shop, overtime=(*shop.overtime, offer))


def _crew_of(presses: tuple[Press, ...], press_ids: tuple[str, ...]) -> int:
    return sum(count for one in presses if not press_ids or one.press_id in press_ids for _, count in one.run_crew)


def _frame_less(inputs: WeekInputs, one: ScreenBroken) -> WeekInputs:
    """A coated or clean frame goes with a screen that is not burned; those of a burned set are in no count."""
    if _is_burned(inputs, one):
        return inputs
    shop = inputs.shop
    if not shop.frames:
        return inputs
    mesh = one.mesh or shop.defaults.mesh_colour
    torn = min(
        (frames for frames in shop.frames if frames.count), key=lambda frames: abs(frames.mesh - mesh), default=None
    )
    left = tuple(
        replace(frames, count=frames.count - 1, coated=min(max(0, frames.coated - 1), frames.count - 1))
        if frames is torn
        else frames
        for frames in shop.frames
    )
    return replace(inputs, shop=replace(shop, frames=left))


def _is_burned(inputs: WeekInputs, one: ScreenBroken) -> bool:
    if one.is_burned is not None:
        return one.is_burned
    stands = any(press.now_on and press.now_on.design_id == one.design_id for press in inputs.shop.presses)
    return stands or any(known.design_id == one.design_id and not known.to_reclaim for known in inputs.shop.burned)


def _print_changed(inputs: WeekInputs, one: PrintChanged) -> WeekInputs:
    imprints, designs = [], list(inputs.designs)
    for imprint in inputs.imprints:
        if imprint.order_id == one.order_id and imprint.location == one.location:
            if one.design_id is not None:
                designs += [
                    replace(known, design_id=one.design_id)
                    for known in inputs.designs
                    if known.design_id == imprint.design_id and one.design_id not in {d.design_id for d in designs}
                ]
            imprint = replace(
                imprint,
                design_id=one.design_id or imprint.design_id,
                not_before=max((at for at in (imprint.not_before, one.not_before) if at is not None), default=None),
            )
        imprints.append(imprint)
    orders = tuple(
        replace(order, untold=(*order.untold, f"waiting for {one.waits_for}"))
        if one.waits_for and order.order_id == one.order_id
        else order
        for order in inputs.orders
    )
    return replace(inputs, imprints=tuple(imprints), designs=tuple(designs), orders=orders)


Print = tuple[str, str]
"""Order and location."""


def begun_problems(inputs: WeekInputs, what_ifs: Iterable[WhatIf], begun: frozenset[Print]) -> list[Problem]:
    """What-ifs that would have garments or art come late to a print that has begun."""
    found: list[Problem] = []
    lots = {lot.lot_id: lot for lot in inputs.lots}
    for one in what_ifs:
        if not isinstance(one, BlanksMoved | ArtMoved):
            continue
        for imprint in inputs.imprints:
            is_art = isinstance(one, ArtMoved) and one.location in (None, imprint.location)
            is_lot = isinstance(one, BlanksMoved) and any(
                one.garment in (None, lots[lot_id].garment) for lot_id in imprint.lot_ids
            )
            if (
                imprint.order_id == one.order_id
                and (imprint.order_id, imprint.location) in begun
                and (is_art or is_lot)
            ):
                what = "art" if is_art else "garments"
                text = f"{imprint.order_id} {imprint.location} has begun: its {what} are there"
                found += _fault("has_begun", text, "name a location or garment that has not begun").problems
    return found


def resolved(
    inputs: WeekInputs, week: Week, what_ifs: Iterable[WhatIf], begun: frozenset[Print]
) -> tuple[PrintChanged, ...]:
    """What torn screens and missing inks come to for each print that has not begun. week: that of the inputs."""
    found: list[PrintChanged] = []
    for one in what_ifs:
        if isinstance(one, InkOut):
            prints = {(run.order_id, run.location) for run in week.runs if one.ink.lower() in inks_of(week, run.run_id)}
            waits_for = one.ink if one.at is None else ""
            found += [
                PrintChanged(order_id=order_id, location=location, not_before=one.at, waits_for=waits_for)
                for order_id, location in sorted(prints - begun)
            ]
        elif isinstance(one, ScreenBroken) and _is_burned(inputs, one):
            prints = {(own.order_id, own.location) for own in inputs.imprints if own.design_id == one.design_id}
            found += [
                PrintChanged(order_id=order_id, location=location, design_id=f"{one.design_id} {AGAIN}")
                for order_id, location in sorted(prints - begun)
            ]
    return tuple(found)


def inks_of(week: Week, run_id: str) -> frozenset[str]:
    """Names of the inks a run prints with."""
    return frozenset(week.ink[head.ink_id].name for choice in week.run[run_id].choices for head in choice.stack.heads)


def _fault(code: str, message: str, hint: str) -> InputError:
    return InputError((Problem(file="what if", code=code, message=message, hint=hint),))
