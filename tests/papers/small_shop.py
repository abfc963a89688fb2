"""A shop of two presses with a plan that keeps every rule, for everything that is handed out on paper.

Big Eight prints the dark and the light lot of one design, then a black back print with white kept live beside it, then
a design that takes white up again. The manual prints a water-based left chest that must be rinsed out. One order
misses its pick-up; one waits for its artwork.
"""

from __future__ import annotations

from scheduler.domain.calendars import Restart
from scheduler.domain.plan import CoatBatch, Plan, PlannedOrder, PlannedRun, Reclaim
from scheduler.domain.week import (
    NotPlanned,
    Part,
    PressChoice,
    PressLine,
    Run,
    ScreenNote,
    ScreenSet,
    SetUpMinutes,
    Stack,
    Week,
)
from scheduler.trade.set_up import implied_set_up_min
from tests import builders

INKS = (
    builders.ink("white"),
    builders.ink("red", is_dark=True),
    builders.ink("black", is_dark=True),
    builders.ink("blue", is_dark=True, idle_ok_min=90),
)
MINUTES = SetUpMinutes(
    mount_min=5,
    load_min=2,
    card_min=1,
    clean_light_min=4,
    clean_dark_min=8,
    pallet_min=6,
    flash_move_min=3,
    strike_off_min=6,
)
CREST = builders.stack(
    ("crest:base", "white"), ("crest:1", "white"), ("crest:2", "red"), set_id="crest", flash_after=(0,), pallet="adult"
)
CREST_LIGHT = builders.stack(("crest:1", "white"), ("crest:2", "red"), set_id="crest", pallet="adult")
ROUTE = builders.stack(("route:1", "black"), set_id="route", pallet="adult")
BADGE = builders.stack(("badge:1", "white"), ("badge:2", "black"), set_id="badge", pallet="youth")
WAVE = builders.stack(("wave:1", "blue"), set_id="wave")


def _offer(press_id: str, on: Stack, *part_min: int, rate: int, **more: int) -> PressChoice:
    return PressChoice(
        press_id=press_id,
        stack=on,
        heads_needed=len(on.heads) + len(on.flash_after),
        print_min=sum(part_min),
        part_min=part_min,
        rate_pcs_h=rate,
        **more,
    )


def _run(run_id: str, order_id: str, location: str, set_id: str, offer: PressChoice, *parts: Part, **more: int) -> Run:
    return Run(
        run_id=run_id,
        order_id=order_id,
        design_id=set_id,
        location=location,
        set_id=set_id,
        parts=parts,
        choices=(offer,),
        cure_min=3,
        **more,
    )


def _set(set_id: str, *prints: tuple[str, str, int]) -> ScreenSet:
    """A set of screens, each (screen, what it prints, mesh)."""
    classes = sorted({f"23x31/{mesh}" for _, _, mesh in prints})
    return ScreenSet(
        set_id=set_id,
        design_id=set_id,
        screen_ids=tuple(screen for screen, _, _ in prints),
        frames=tuple((name, sum(name == f"23x31/{mesh}" for _, _, mesh in prints)) for name in classes),
        burn_min=12 * len(prints),
        tape_min=4,
        is_burned_now=set_id == "crest",
        notes=tuple(
            ScreenNote(screen_id=screen, prints=text, mesh=mesh, frame_size="23x31") for screen, text, mesh in prints
        ),
    )


def press_lines() -> tuple[PressLine, PressLine]:
    """Big Eight with black in its first head, and a bare manual."""
    auto = builders.press_line(
        "auto-1",
        name="Big Eight",
        head_count=8,
        set_up=MINUTES,
        set_up_crew=(("print", 1),),
        run_crew=(("print", 1), ("catch", 1)),
        dryer_id="long",
        set_up_cents_per_min=40,
        restart=Restart(break_min=2, night_min=8),
        flash_takes=("flash",),
        now_on=builders.stack(("old:1", "black"), pallet="adult"),
    )
    manual = builders.press_line(
        "manual", name="Manual", head_count=4, set_up=MINUTES, set_up_crew=(("print", 1),), run_crew=(("print", 1),)
    )
    return auto, manual


def week(*, client: str = "Harbour Run Club") -> Week:
    """The week; `client` is who ordered 1042, as a stranger typed it."""
    tee = Part(lot_id="1042 black", garment="black tee", pieces=240)
    light = (
        Part(lot_id="1042 ash", garment="ash tee", pieces=120),
        Part(lot_id="1042 white", garment="white tee", pieces=60),
    )
    runs = (
        _run("1042 front dark", "1042", "front", "crest", _offer("auto-1", CREST, 60, rate=240), tee),
        _run("1042 front light", "1042", "front", "crest", _offer("auto-1", CREST_LIGHT, 24, 12, rate=300), *light),
        _run(
            "1042 back dark",
            "1042",
            "back",
            "route",
            _offer("auto-1", ROUTE, 36, rate=400, set_up_extra_min=10),
            tee,
        ),
        _run(
            "1044 front dark",
            "1044",
            "front",
            "badge",
            _offer("auto-1", BADGE, 100, rate=300),
            Part(lot_id="1044 navy", garment="navy youth tee", pieces=500),
        ),
        _run(
            "1045 left chest light",
            "1045",
            "left chest",
            "wave",
            _offer("manual", WAVE, 60, rate=60, wash_up_min=5),
            Part(lot_id="1045 white", garment="white tee", pieces=60),
            idle_ok_min=90,
        ),
    )
    orders = (
        builders.order_due(
            "1042",
            [run.run_id for run in runs[:3]],
            client=client,
            firmness="firm",
            pickups_tau=(200, 840, 1380, 2700),
            late_cents=40_000,
            finish_min=30,
            finish_lag_min=10,
            last_box_min=5,
        ),
        builders.order_due("1044", ["1044 front dark"], client="Fennick Brewery", pickups_tau=(840, 1380, 2700)),
        builders.order_due("1045", ["1045 left chest light"], client="Café São", pickups_tau=(840, 2700)),
    )
    return builders.week(
        runs=runs,
        orders=orders,
        presses=press_lines(),
        inks=INKS,
        sets=(
            _set("crest", ("crest:base", "white base", 156), ("crest:1", "white", 156), ("crest:2", "red", 230)),
            _set("route", ("route:1", "black", 230)),
            _set("badge", ("badge:1", "white", 156), ("badge:2", "black", 230)),
            _set("wave", ("wave:1", "blue", 230)),
        ),
        frames=(
            builders.frame_stock("23x31/156", coated_now=1, clean_now=4),
            builders.frame_stock("23x31/230", coated_now=2, clean_now=4),
        ),
        screen_room=builders.screen_room(
            crew=(("screens", 1),),
            exposure_units=1,
            burn_cents_per_screen=900,
            coat_windows=(builders.coat_window(),),
            reclaim_blocks=(builders.reclaim_block(start=600, end=660),),
        ),
        staging=builders.floor_line(minutes=5, crew=(("stage", 1),)),
        finishing=builders.floor_line(crew=(("pack", 1),)),
        people=(
            builders.person("Ana"),
            builders.person("Bea", roles=("catch", "stage")),
            builders.person("Cas"),
            builders.person("Dov", roles=("screens",)),
            builders.person("Eve", roles=("pack", "stage")),
        ),
        not_planned=(NotPlanned(order_id="1046", run_id=None, reasons=("art: nobody knows when",), kind="waiting"),),
        digest="small shop",
    )


def plan(of: Week | None = None) -> Plan:
    """The plan of the week; its set-up minutes follow from the run before."""
    asked = of or week()
    auto = _queue(
        asked,
        "auto-1",
        ("1042 front dark", 5, (), None, "first: its screens stand ready"),
        ("1042 front light", 0, (), None, "same screens, underbase off"),
        ("1042 back dark", 0, ("white",), 0, "its garments come off the front print"),
        ("1044 front dark", 640, (), 540, "its screens are coated on Monday evening"),
    )
    manual = _queue(asked, "manual", ("1045 left chest light", 130, (), 20, "its screen is dry then"))
    last_back = auto[2].print_end_tau + 3
    return builders.plan(
        *auto,
        *manual,
        orders=(
            PlannedOrder(order_id="1042", finish_start_tau=last_back + 5 - 30, packed_tau=last_back + 5),
            PlannedOrder(
                order_id="1044", finish_start_tau=auto[3].print_end_tau + 3, packed_tau=auto[3].print_end_tau + 3
            ),
            PlannedOrder(
                order_id="1045", finish_start_tau=manual[0].print_end_tau + 3, packed_tau=manual[0].print_end_tau + 3
            ),
        ),
        coat_batches=(CoatBatch(window_id="coat Mon", class_id="23x31/230", count=1),),
        reclaims=(Reclaim(set_id="route", after_run_id="1042 back dark", block_id="reclaim Tue"),),
    )


def _queue(
    asked: Week, press_id: str, *lines: tuple[str, int, tuple[str, ...], int | None, str]
) -> tuple[PlannedRun, ...]:
    """Runs one after the other, each (run, not before, kept inks, burn start, reason), staged just before set-up."""
    press = asked.press[press_id]
    stood, kept_before, at = press.now_on, tuple[str, ...](), 5
    found: list[PlannedRun] = []
    for run_id, not_before, kept, burn_at, reason in lines:
        run = asked.run[run_id]
        choice = run.on_press[press_id]
        set_up = implied_set_up_min(choice, stood, press.set_up, asked.ink, kept_before, kept)
        burn = None
        if burn_at is not None and run.set_id is not None:
            one = asked.screen_set[run.set_id]
            burn = builders.planned_burn(burn_at, burn=one.burn_min, tape=one.tape_min)
        start = max(at, not_before)
        found.append(
            builders.planned_run(
                run_id,
                press_id=press_id,
                at=start,
                set_up=set_up,
                printing=choice.work_min,
                stage=(start - 5, start),
                kept_inks=kept,
                burn=burn,
                reason=reason,
            )
        )
        stood, kept_before, at = choice.stack, kept, found[-1].print_end_tau
    return tuple(found)
