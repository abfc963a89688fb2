"""What the good week of `tests/inputs/weeks.py` means, record by record."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from scheduler.domain.calendars import Restart
from scheduler.domain.orders import (
    DesignRecord,
    Imprint,
    Ink,
    Lot,
    Order,
    Progress,
)
from scheduler.domain.shop import (
    BurnedSet,
    Carrier,
    Closure,
    DayHours,
    Defaults,
    Dryer,
    Frames,
    Hours,
    InkFamily,
    MoneySettings,
    NowOn,
    OvertimeOffer,
    Press,
    ScreenRoom,
    Shop,
    Worker,
)
from scheduler.domain.week import SetUpMinutes

ZONE = ZoneInfo("Europe/Lisbon")
MON_FRI = (0, 1, 2, 3, 4)


def at(text: str) -> datetime:
    """A local moment of the shop."""
    return datetime.fromisoformat(text).replace(tzinfo=ZONE)


def hours(from_min: int, to_min: int, *breaks: tuple[int, int], weekdays: tuple[int, ...] = MON_FRI) -> Hours:
    """Hours on weekdays."""
    return (DayHours(weekdays=weekdays, from_min=from_min, to_min=to_min, breaks=breaks),)


BIG_EIGHT = Press(
    press_id="auto-1",
    name="Big Eight",
    kind="automatic",
    heads=8,
    flash_place="in a head",
    flashes=2,
    cool_down_head=True,
    index_s=3.5,
    stroke_s=4.0,
    load_s=4.5,
    unload_s=5.0,
    swing_s=2.0,
    run_crew_pct=90,
    max_width_in=16.0,
    max_height_in=19.685039,
    frame_sizes=("23x31", "25x36"),
    pallets=("adult", "sleeve"),
    families=("plastisol", "water-based", "discharge"),
    dryer_id="long",
    hours=hours(420, 960),
    set_up=SetUpMinutes(
        mount_min=4,
        load_min=3,
        card_min=1,
        swap_min=1,
        clean_light_min=2,
        clean_dark_min=6,
        pallet_min=9,
        flash_move_min=3,
        strike_off_min=7,
    ),
    approval_min=20,
    restart=Restart(break_min=3, night_min=10),
    set_up_crew=(("print", 1),),
    run_crew=(("print", 1), ("catch", 1)),
    now_on=NowOn(design_id="stout mug", inks=("white", "gold"), pallet="adult"),
)

MANUAL = Press(
    press_id="manual",
    name="manual",
    kind="manual",
    heads=4,
    stated_pcs_h=65,
    set_up=SetUpMinutes(
        mount_min=5,
        load_min=2,
        card_min=1,
        clean_light_min=3,
        clean_dark_min=5,
        pallet_min=8,
        flash_move_min=2,
        strike_off_min=6,
    ),
    restart=Restart(break_min=2, night_min=8),
)

ROOM = ScreenRoom(
    hours=hours(480, 945, weekdays=(0, 1, 2, 3)),
    crew=(("screens", 1),),
    exposure_units=2,
    per_exposure=3,
    expose_min=2.5,
    wash_out_min=4.0,
    dry_min=40,
    tape_each_min=1.0,
    rack_places=20,
    idle_ok_min=50,
    coat_from_min=900,
    coat_length_min=45,
    coat_each_min=2.0,
    coat_places=18,
    ready_after_min=180,
    reclaim_from_min=810,
    reclaim_length_min=75,
    reclaim_each_min=5.0,
    default_frame="23x31",
    burn_cents=950,
    ready_ahead_min=180,
    not_ahead_cents=2,
)

SHOP = Shop(
    name="Harbour Row Prints",
    zone="Europe/Lisbon",
    plan_from=at("2026-03-02 07:00"),
    days_ahead=10,
    hours=hours(420, 960, (720, 750)),
    presses=(BIG_EIGHT, MANUAL),
    dryers=(
        Dryer(
            dryer_id="long",
            name="long dryer",
            heated_length_in=120.0,
            belt_width_in=36.0,
            pitch_in=17.0,
            lane_in=18.0,
            hours=hours(435, 960),
        ),
    ),
    people=(
        Worker(
            person_id="marta",
            name="Marta",
            roles=("print", "stage"),
            press_ids=("auto-1",),
            hours=hours(420, 960, (690, 720)),
            days_off=(date(2026, 3, 5), date(2026, 3, 6)),
        ),
        Worker(person_id="ivo", name="ivo", roles=("print", "catch", "screens", "pack")),
    ),
    screen_room=ROOM,
    frames=(
        Frames(size="23x31", mesh=156, count=40, coated=12),
        Frames(size="23x31", mesh=230, count=30, coated=8),
    ),
    burned=(
        BurnedSet(design_id="old anchor", frames=(("23x31", 230, 1),)),
        BurnedSet(design_id="stout mug", frames=(("23x31", 156, 2), ("23x31", 230, 1)), to_reclaim=True),
        BurnedSet(design_id="mill loaf", frames=()),
    ),
    carriers=(Carrier(name="Parcel Run", weekdays=MON_FRI, pick_up_min=900, transit_days=2),),
    closures=(
        Closure(what="", from_at=at("2026-03-10"), to_at=at("2026-03-11"), why="stock-taking"),
        Closure(what="manual", from_at=at("2026-03-04 13:00"), to_at=at("2026-03-04 15:00"), why="new bearings"),
    ),
    overtime=(
        OvertimeOffer(
            day=date(2026, 3, 4),
            from_min=960,
            to_min=1140,
            price_cents=18_000,
            press_ids=("auto-1",),
            person_ids=("marta", "ivo"),
        ),
    ),
    families=(
        InkFamily(name="plastisol", tunnel_s=55, flash_s=6.5),
        InkFamily(name="water-based", tunnel_s=140, flash_s=11.0, idle_ok_min=15),
    ),
    dark_inks=("black", "navy"),
    money=MoneySettings(
        currency="EUR",
        late_firm_cents=30_000,
        late_normal_cents=12_050,
        late_easy_cents=4_000,
        cushion_cents=800,
        cushion_min=180,
        person_hour_cents=2_100,
        move_cents=600,
        move_free_min=20,
    ),
    defaults=Defaults(
        family="plastisol",
        firmness="easy",
        white_on_dark="same screen twice",
        mesh_base=150,
        mesh_white=160,
        mesh_colour=225,
        spare_pct=2.0,
        garment_pct=(("tee", 100), ("long sleeve", 90), ("fleece", 70), ("youth", 95), ("bag", 85)),
        carrier="collected",
        print_width_in=11.0,
        print_height_in=13.0,
        finish_each_s=9.0,
        finish_lag_min=10,
        last_box_min=4,
        between_min=5,
    ),
    stage_min=8,
    stage_crew=(("stage", 1),),
    finish_crew=(("pack", 1),),
    packing_hours=hours(480, 960),
    dont_touch_before=at("2026-03-02 10:00"),
    room_kept_free_min=30,
)

ORDERS = (
    Order(
        order_id="4102",
        client="Fennick Street Brewery",
        due_at=date(2026, 3, 5),
        firmness="firm",
        carrier="collected",
        late_cents=15_000,
        finish_each_s=20.0,
        note="race day; sponsors",
        source_row=2,
    ),
    Order(
        order_id="4103",
        client="Low Ford Elementary",
        due_at=date(2026, 3, 9),
        due_kind="in_hands",
        carrier="Parcel Run",
        source_row=5,
    ),
)

LOTS = (
    Lot(
        lot_id="4102 black tee",
        order_id="4102",
        garment="black tee",
        kind="tee",
        shade="dark",
        pieces=144,
        is_counted=True,
        sizes="S 20, M 60, L 64",
        source_row=2,
    ),
    Lot(
        lot_id="4102 natural tee",
        order_id="4102",
        garment="natural tee",
        kind="tee",
        shade="light",
        pieces=1200,
        from_client=True,
        blanks_at=at("2026-03-04"),
        source_row=3,
    ),
    Lot(
        lot_id="4103 Royal Hoodie",
        order_id="4103",
        garment="Royal Hoodie",
        kind="fleece",
        shade="dark",
        pieces=40,
        is_waiting=True,
        source_row=5,
    ),
)

IMPRINTS = (
    Imprint(
        order_id="4102",
        location="front",
        design_id="stout mug",
        inks=(Ink(name="white", mesh=156), Ink(name="gold", mesh=230)),
        lot_ids=("4102 black tee", "4102 natural tee"),
        with_base=False,
        width_in=12.0,
        height_in=11.811024,
        frame_size="23x31",
        pallet="adult",
        presses=("auto-1", "manual"),
        preferred=("auto-1",),
        stated_pcs_h=300,
        stated_set_up_min=30,
        between_min=15,
        approval_at_press=True,
        lock_press="auto-1",
        lock_at=at("2026-03-03 09:00"),
        note="race day",
        source_row=2,
    ),
    Imprint(
        order_id="4102",
        location="back",
        design_id="4102 back",
        inks=(Ink(name="white", family="water-based", hits=2),),
        lot_ids=("4102 black tee",),
        art_at=at("2026-03-03 11:00"),
        never=("manual",),
        stated_run_min=55,
        print_after=("front",),
        note="sponsors",
        source_row=4,
    ),
    Imprint(
        order_id="4103",
        location="left chest",
        design_id="4103 left chest",
        inks=(Ink(name="white base"), Ink(name="red")),
        lot_ids=("4103 Royal Hoodie",),
        is_waiting_for_art=True,
        source_row=5,
    ),
)

DESIGNS = (
    DesignRecord(
        design_id="stout mug",
        inks=(Ink(name="white"), Ink(name="gold")),
        width_in=12.0,
        height_in=12.0,
        frame_size="23x31",
        actual_pcs_h=380,
        actual_set_up_min=35,
        preferred=("auto-1",),
    ),
    DesignRecord(design_id="old anchor", inks=(Ink(name="navy"),), width_in=4.0, height_in=4.0),
)

PROGRESS = (
    Progress(
        order_id="4102",
        location="front",
        shade="dark",
        press_id="auto-1",
        started_at=at("2026-02-27 14:25"),
        pieces_left=90,
        set_up_left_min=10,
    ),
)

ASSUMED = {
    "least time at a press for whoever is sent there: 30 min, assumed": ("shop",),
    "flashes that can stand on it: 1, assumed": ("manual",),
    "one setting of the dryer is taken to suit all inks: no minutes to settle are told": ("long",),
    "time until it is hot after it is switched on: 0 min, assumed": ("long",),
    "time its flashes take to get hot at each opening: 0 min, assumed": ("auto-1", "manual"),
    "no dryer named: the belt is taken never to be short": ("manual",),
    "set-up time to mount and register a screen: 5 min, assumed": ("manual",),
    "set-up time per head that gets an ink: 2 min, assumed": ("manual",),
    "set-up time to card an ink over into another screen: 1 min, assumed": ("manual",),
    "ink clean-up of a light ink: 3 min, assumed": ("manual",),
    "ink clean-up of a dark ink: 5 min, assumed": ("manual",),
    "set-up time to move a flash: 2 min, assumed": ("manual",),
    "strike-off, one pass through the dryer included: 6 min, assumed": ("manual",),
    "wait for a client's approval at the press: 15 min, assumed": ("manual",),
    "extra time to print on after a break: 2 min, assumed": ("manual",),
    "extra time to print on after a night: 8 min, assumed": ("manual",),
    "people who set it up: print 1, assumed": ("manual",),
    "people who run it: print 1, assumed": ("manual",),
    "nothing stands on it at the planning moment, assumed": ("manual",),
    "read as tee from the garment's words": ("4102 black tee", "4102 natural tee"),
    "a day without a clock time: there as soon as the shop opens, assumed": ("4102 natural tee blanks",),
    "pieces taken as ordered: nothing says they were counted in": ("4102 natural tee", "4103 Royal Hoodie"),
    "plastisol ink assumed": ("4102 front", "4103 left chest"),
    "design named after its order and location": ("4102 back", "4103 left chest"),
    "easy assumed where nothing says how much a late day hurts": ("4103",),
    "read as fleece from the garment's words": ("4103 Royal Hoodie",),
    "read as dark from the garment's colour": ("4103 Royal Hoodie",),
    "23x31 frames assumed for screens that hang": ("stout mug",),
    "the whole set hangs burned, assumed": ("mill loaf",),
}
