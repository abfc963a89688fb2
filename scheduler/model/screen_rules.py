"""Rules of the screen room: burning, drying, taping, coated and clean frames, reclaiming."""

from __future__ import annotations

from collections import defaultdict

from scheduler.model.calendar_rules import may_not_span, work_takes_its_minutes
from scheduler.model.context import ModelContext
from scheduler.model.variables import BurnVars, Expr, SetVars, total


def screens_stand_ready(ctx: ModelContext) -> None:
    """A set-up starts with its screens burned, dry and taped; a set is burned when it must be, and only then.

    burned for the first use = 1 unless the set hangs burned; burned for a later use = [reclaimed after the use before].
    burn start >= art, >= end of that reclaim's block; tape start >= dry = burn end + drying; tape end <= set_up_start.
    """
    for one in ctx.vars.sets.values():
        _uses_in_order(ctx, one)
        _burned_when_needed(ctx, one)
    for burn in ctx.vars.burns():
        work_takes_its_minutes(ctx, burn.burn)
        work_takes_its_minutes(ctx, burn.tape)
        if ctx.week.screen_room is not None:
            may_not_span(ctx, burn.burn.hours, burn.burn.began, burn.burn.ended, ctx.week.screen_room.idle_ok_min)
        _dries(ctx, burn)
        ctx.model.add(burn.burn.start >= burn.run.art_tau * burn.burn.happens)
        ctx.model.add(burn.tape.start >= burn.dry)
        ctx.model.add(ctx.vars.runs[burn.run.run_id].set_up_start >= burn.tape.end)


def _uses_in_order(ctx: ModelContext, one: SetVars) -> None:
    """The uses of a set form one queue, in the order of their set-ups.

    follows[u, v] => precedes[u, v]; each use has one before (or is first) and one after (or is last).
    """
    if len(one.uses) == 1:
        return
    node = {use: number for number, use in enumerate(one.uses, start=1)}
    arcs = [(0, node[use], literal) for use, literal in one.first.items()]
    arcs += [(node[use], 0, literal) for use, literal in one.last.items()]
    arcs += [(node[use], node[then], literal) for (use, then), literal in one.follows.items()]
    ctx.model.add_circuit(arcs)
    for (use, then), literal in one.follows.items():
        ctx.model.add_implication(literal, one.precedes[use, then])


def _burned_when_needed(ctx: ModelContext, one: SetVars) -> None:
    """First use: burned unless it hangs ready or has started. Later use: burned if reclaimed after the use before."""
    for use in one.uses:
        burn = ctx.vars.runs[use].burn
        happens: Expr = burn.burn.happens if burn is not None else 0
        if burn is not None:
            ctx.model.add(happens == int(not one.screens.is_burned_now)).only_enforce_if(one.first[use])
        for earlier in one.uses:
            if earlier == use or not one.screens.screen_count:
                continue
            follows, reclaims = one.follows[earlier, use], one.reclaims_after(earlier)
            ctx.model.add(total(literal for _, literal in reclaims) == happens).only_enforce_if(follows)
            if burn is not None:
                back = total(block.end_tau * literal for block, literal in reclaims)
                ctx.model.add(burn.burn.start >= back).only_enforce_if(follows)


def _dries(ctx: ModelContext, burn: BurnVars) -> None:
    """The set is dry `dry_min` wall minutes after its burn: one piece of the axis holds the burn's end."""
    end, dry, happens = burn.burn.end, burn.dry, burn.burn.happens
    ctx.model.add(total(piece.literal for piece in burn.pieces) == happens)
    ctx.model.add(end >= total(piece.first_tau * piece.literal for piece in burn.pieces))
    ctx.model.add(end <= total(piece.last_tau * piece.literal for piece in burn.pieces))
    for piece in burn.pieces:
        dry_at: Expr = end + piece.dry_tau if piece.is_moving else piece.dry_tau
        ctx.model.add(dry == dry_at).only_enforce_if(piece.literal)
    ctx.model.add(dry <= ctx.week.horizon_tau * happens)


def exposure_units_suffice(ctx: ModelContext) -> None:
    """No more sets are being burned at once than there are exposure units; a burn that pauses keeps its unit.

    At every minute: number of burns with start <= t < end is at most exposure_units.
    """
    room, burns = ctx.week.screen_room, ctx.vars.burns()
    if room is not None and len(burns) > room.exposure_units:
        ctx.model.add_cumulative([burn.burn.interval for burn in burns], [1] * len(burns), room.exposure_units)


def rack_has_room(ctx: ModelContext) -> None:
    """Washed-out screens that dry find a place on the rack.

    At every minute: sum of screens of sets with burn end <= t < dry is at most rack_places.
    """
    room, burns = ctx.week.screen_room, ctx.vars.burns()
    counts = [burn.screens.screen_count for burn in burns]
    if room is not None and sum(counts) > room.rack_places:
        ctx.model.add_cumulative([burn.on_rack for burn in burns], counts, room.rack_places)


def coating_has_places(ctx: ModelContext) -> None:
    """No more frames are coated in a window than it has places.

    Per window: sum of counts over frame classes <= places.
    """
    counts: dict[str, list[Expr]] = defaultdict(list)
    places = {coat.window.window_id: coat.window.places for coat in ctx.vars.coated}
    for coat in ctx.vars.coated:
        counts[coat.window.window_id].append(coat.count)
    for window_id, parts in counts.items():
        ctx.model.add(total(parts) <= places[window_id])


def _frames_of(burn: BurnVars, class_id: str) -> int:
    return sum(count for frame, count in burn.screens.frames if frame == class_id)


def _classes(ctx: ModelContext) -> list[str]:
    used = {class_id for one in ctx.week.sets for class_id, _ in one.frames}
    return sorted(used | {stock.class_id for stock in ctx.week.frames})


def coated_screens_last(ctx: ModelContext) -> None:
    """Nothing is burned on a screen that is not coated and ready.

    Per frame class and ready time r (and the week's end): frames of burns with start < r <=
    coated_now + counts of windows with ready_tau < r. Between ready times only burns change the stock.
    """
    now = {stock.class_id: stock.coated_now for stock in ctx.week.frames}
    horizon_tau = ctx.week.horizon_tau
    for class_id in _classes(ctx):
        burns = [(burn, _frames_of(burn, class_id)) for burn in ctx.vars.burns()]
        users = [(burn, frames) for burn, frames in burns if frames]
        if sum(frames for _, frames in users) <= now.get(class_id, 0):
            continue
        coats = [coat for coat in ctx.vars.coated if coat.class_id == class_id]
        readies = {coat.window.ready_tau for coat in coats if coat.window.ready_tau <= horizon_tau}
        for ready_tau in sorted({*readies, horizon_tau + 1}):
            # Burn cells are cut at every ready time, so a start before it is a start in a cell that is over by then.
            needed = [frames * burn.burn.began.by(ready_tau) for burn, frames in users]
            got = [coat.count for coat in coats if coat.window.ready_tau < ready_tau]
            ctx.model.add(total(needed) <= now.get(class_id, 0) + total(got))


def clean_frames_last(ctx: ModelContext) -> None:
    """Only frames that are clean when a coat window starts are coated in it.

    Per class, at each coat window start w: frames coated in windows with start_tau <= w <= clean_now + frames of
    reclaims in blocks with end_tau <= w.
    """
    room = ctx.week.screen_room
    if room is None:
        return
    ends = {block.block_id: block.end_tau for block in room.reclaim_blocks}
    reclaims = [
        (one, block, literal) for one in ctx.vars.sets.values() for (_, block), literal in one.reclaimed.items()
    ]
    now = {stock.class_id: stock.clean_now for stock in ctx.week.frames}
    for class_id in now:
        coats = [coat for coat in ctx.vars.coated if coat.class_id == class_id]
        early = [(ends[block], n) for block, frame, n in ctx.week.early_reclaims if frame == class_id and block in ends]
        back: list[tuple[int, Expr]] = [
            (block.end_tau, sum(n for frame, n in one.screens.frames if frame == class_id) * literal)
            for one, block, literal in reclaims
        ]
        for at in sorted({coat.window.start_tau for coat in coats}):
            coated = total(coat.count for coat in coats if coat.window.start_tau <= at)
            clean = now[class_id] + sum(n for end, n in early if end <= at)
            ctx.model.add(coated <= clean + total(frames for end, frames in back if end <= at))


def reclaim_after_counted(ctx: ModelContext) -> None:
    """A set is reclaimed once after a use at most, when the orders printed from it are counted good and packed.

    block start >= packed of the order of every use up to that one; per block: screens reclaimed + early ones <= places.
    """
    room = ctx.week.screen_room
    if room is None:
        return
    for one in ctx.vars.sets.values():
        for use in one.uses:
            _counted_before(ctx, one, use)
    for block in room.reclaim_blocks:
        early = sum(count for block_id, _, count in ctx.week.early_reclaims if block_id == block.block_id)
        screens = [
            one.screens.screen_count * literal
            for one in ctx.vars.sets.values()
            for (_, other), literal in one.reclaimed.items()
            if other == block
        ]
        ctx.model.add(total(screens) + early <= block.places)


def _counted_before(ctx: ModelContext, one: SetVars, use: str) -> None:
    reclaims = one.reclaims_after(use)
    ctx.model.add_at_most_one(literal for _, literal in reclaims)
    for other in one.uses:
        order = ctx.vars.orders.get(ctx.week.run[other].order_id)
        if order is None:
            continue
        for block, literal in reclaims:
            conditions = [literal] if other == use else [literal, one.precedes[other, use]]
            ctx.model.add(order.packed <= block.start_tau).only_enforce_if(conditions)


def set_is_in_one_place(ctx: ModelContext) -> None:
    """A screen set is on one press at a time.

    precedes[u, v] => print_end[u] <= set_up_start[v].
    """
    for one in ctx.vars.sets.values():
        for (use, then), literal in one.precedes.items():
            earlier, later = ctx.vars.runs[use], ctx.vars.runs[then]
            ctx.model.add(later.set_up_start >= earlier.print_end).only_enforce_if(literal)
