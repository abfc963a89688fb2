"""What a plan costs, term by term, in integer cents: the model's twin of `review.measures`."""

from __future__ import annotations

from scheduler.domain.week import PressChoice
from scheduler.model.context import ModelContext
from scheduler.model.variables import Expr, Literal, RunOnPress, total


def late(ctx: ModelContext) -> Expr:
    """Each pick-up missed from the promised one on.

    sum of late_cents x [packed > pickup_d]; both ways, so the cost is right in every plan, not only in the best.
    """
    parts: list[Expr] = []
    for one in ctx.vars.orders.values():
        for pickup, literal in one.late.items():
            at = one.order.pickups_tau[pickup]
            ctx.model.add(one.packed <= at).only_enforce_if(~literal)
            ctx.model.add(one.packed > at).only_enforce_if(literal)
            parts.append(one.order.late_cents * literal)
    return total(parts)


def cushion(ctx: ModelContext) -> Expr:
    """Orders packed within the cushion before the pick-up that keeps the promise, or after it.

    sum of cushion_cents x [packed > pickup - cushion_min].
    """
    parts: list[Expr] = []
    for one in ctx.vars.orders.values():
        at = one.order.pickups_tau[one.order.must_leave] - one.order.cushion_min
        ctx.model.add(one.packed <= at).only_enforce_if(~one.in_cushion)
        ctx.model.add(one.packed > at).only_enforce_if(one.in_cushion)
        parts.append(one.order.cushion_cents * one.in_cushion)
    return total(parts)


def overtime(ctx: ModelContext) -> Expr:
    """Overtime bought.

    sum of price x bought.
    """
    return total(block.price_cents * ctx.vars.bought[block.block_id] for block in ctx.week.overtime)


def set_up(ctx: ModelContext) -> Expr:
    """Set-up and rinsing out, at the press's price of a minute.

    sum of (set_up_min + wash_up_min x [on this press] + (wash_up_min + re_ink_min) x long stops) x cents of a minute.
    """
    parts: list[Expr] = []
    for on in (on for run in ctx.vars.runs.values() for on in run.on.values()):
        minutes: list[Expr] = [on.set_up_min, on.choice.wash_up_min * on.is_here]
        if on.choice.long_stop_min:
            spanned = [ctx.vars.spanned(stop, on.printing, on.end) for stop in on.long_stops]
            minutes += [on.choice.long_stop_min * across for across in spanned]
        parts.append(on.press.set_up_cents_per_min * total(minutes))
    return total(parts)


def printing(ctx: ModelContext) -> Expr:
    """Print crews' minutes beyond those of the press where the run takes the least of them.

    sum of print_cents x [printed on this press, in this way].
    """
    offers = [on for run in ctx.vars.runs.values() for on in run.on.values()]
    return total(choice.print_cents * here for on in offers for choice, here in _ways(on) if choice.print_cents)


def _ways(on: RunOnPress) -> list[tuple[PressChoice, Literal]]:
    found = [(on.choice.in_way(way), here) for way, here in on.ways.items()]
    return [(choice, here) for choice, here in found if choice is not None]


def burns(ctx: ModelContext) -> Expr:
    """Sets burned, by the screen.

    sum of burn_cents_per_screen x screens x [burned].
    """
    cents = ctx.week.screen_room.burn_cents_per_screen if ctx.week.screen_room is not None else 0
    return total(cents * burn.screens.screen_count * burn.burn.happens for burn in ctx.vars.burns())


def ahead(ctx: ModelContext) -> Expr:
    """Burned screens that stand ready later than the shop wants them before their set-up.

    sum of not_ahead_cents_per_min x max(0, ahead_min - (set_up_start - tape_end)) x [burned]; soft: that they are ready
    at all by then is `screens_stand_ready`.
    """
    room = ctx.week.screen_room
    if room is None or not room.ahead_min or not room.not_ahead_cents_per_min:
        return 0
    parts: list[Expr] = []
    for burn in ctx.vars.burns():
        run_id, happens = burn.run.run_id, burn.burn.happens
        missing = ctx.vars.amount(f"not_ahead[{run_id}]", room.ahead_min)
        is_short = ctx.vars.question(f"is_short[{run_id}]")
        short = room.ahead_min - ctx.vars.runs[run_id].set_up_start + burn.tape.end
        ctx.model.add_implication(is_short, happens)
        ctx.model.add(missing == short).only_enforce_if(is_short)
        ctx.model.add(missing == 0).only_enforce_if(~is_short)
        ctx.model.add(short <= 0).only_enforce_if([happens, ~is_short])
        parts.append(room.not_ahead_cents_per_min * missing)
    return total(parts)


def moves(ctx: ModelContext) -> Expr:
    """Announced runs that change press or move further than is free.

    sum of move_cents x moved; moved = [another press, or start < announced - free, or start > announced + free].
    """
    free_min = ctx.week.prices.move_free_min
    for one in ctx.vars.moves.values():
        run, at = ctx.vars.runs[one.run_id], one.told.set_up_start_tau
        ctx.model.add(run.set_up_start < at - free_min).only_enforce_if(one.too_early)
        ctx.model.add(run.set_up_start >= at - free_min).only_enforce_if(~one.too_early)
        ctx.model.add(run.set_up_start > at + free_min).only_enforce_if(one.too_late)
        ctx.model.add(run.set_up_start <= at + free_min).only_enforce_if(~one.too_late)
        there = run.on.get(one.told.press_id)
        elsewhere = ~there.is_here if there is not None else ctx.vars.always
        ctx.model.add_max_equality(one.moved, [one.too_early, one.too_late, elsewhere])
    return total(ctx.week.prices.move_cents * one.moved for one in ctx.vars.moves.values())
