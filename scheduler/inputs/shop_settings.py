"""The settings of shop.toml: what each one means, whether it is needed, what is taken where it is missing.

Names are dotted; a section that stands several times ([[press]]) is named once. Defaults are start values: where no
source is named they are common practice, and every one used is listed as an assumption.

Sources: five minutes to mount and register a screen is the target for automatics (Images, February 2018); 18 in of
belt for a garment (Printwear, May 2014); a minute in the tunnel for plastisol (K. Stevens, International Coatings,
2012); 90 s to 3 min for water-based inks (Printwear, May 2014); 1 to 2 min and more for discharge; pot life of
discharge: `trade.pot_life`. The ink maker's data sheets win.
"""

from __future__ import annotations

from scheduler.inputs.columns import Column

MANY = ("closure", "press", "dryer", "flash_pool", "frames", "person", "carrier", "overtime", "stations")
"""Sections that may stand several times."""

HOURS = (
    "hours", "press.hours", "dryer.hours", "person.hours", "screen_room.hours", "finishing.hours", "stations.hours",
)  # fmt: skip
"""Tables of weekdays and hours."""


def _section(prefix: str, *rows: tuple[str, str, str, str, str]) -> tuple[Column, ...]:
    """Settings of one section from (name, kind, default or "!" for needed, example, meaning)."""
    return tuple(
        Column(
            sheet="shop",
            name=f"{prefix}.{name}" if prefix else name,
            kind=kind,
            default="" if default == "!" else default,
            example=example,
            meaning=meaning,
            is_needed=default == "!",
        )
        for name, kind, default, example, meaning in rows
    )


SETTINGS: tuple[Column, ...] = (
    *_section(
        "",
        ("name", "name", "!", "Ostermoor Shirtworks", "the shop's name"),
        ("zone", "time zone", "!", "Europe/Lisbon", "time zone of all times"),
        ("plan_from", "moment", "!", "2026-03-02 07:00", "the moment planning starts from"),
        ("days_ahead", "whole number", "14", "14", "days planned over, the first included"),
        ("dates", "day first or month first", "", "day first", "how dates with slashes are meant"),
        ("holidays", "country", "", "DE-BY", "country, and part of it, whose public holidays are kept"),
        ("dont_touch_before", "moment", "", "2026-03-02 10:00", "announced runs before this moment stay put"),
    ),
    *_section(
        "closure",
        ("what", "name", "", "auto-1", 'what is closed: a press, dryer or person id, "screens", "packing"; empty: all'),
        ("day", "day", "", "2026-03-06", "a whole day; instead of from and to"),
        ("from", "day or moment", "", "2026-03-06 12:00", "closed from"),
        ("to", "day or moment", "", "2026-03-06 15:00", "closed until; a day counts whole"),
        ("why", "words", "", "stock-taking", "the reason, for the lists"),
    ),
    *_section(
        "press",
        ("id", "name", "!", "auto-1", "what sheets call the press"),
        ("name", "name", "", "Big Eight", "what people call it; empty: its id"),
        ("kind", "automatic or manual", "!", "automatic", "automatic or manual"),
        ("heads", "whole number", "!", "8", "print heads; screens of a manual"),
        ("flash_place", "place", "over a pallet", "in a head", "where a flash stands"),
        ("flashes", "whole number", "1", "2", "flashes that can stand on it"),
        ("flash_pool", "name", "", "wheels", "id of the flashes on wheels it shares; empty: its flashes are its own"),
        ("cool_down_head", "yes or no", "no", "yes", "an empty head after every flash"),
        ("flash_warm_up", "time", "0 min", "10 min", "time its flashes take to get hot at each opening"),
        ("index", "time in seconds", "3 s", "3 s", "time to move the pallets on"),
        ("stroke", "time in seconds", "3 s", "4 s", "time of one print stroke"),
        ("load", "time in seconds", "4 s", "4 s", "time to load a garment"),
        ("unload", "time in seconds", "4 s", "4 s", "time to take a garment off"),
        ("swing", "time in seconds", "3 s", "3 s", "time to swing a flash in and out on a manual"),
        ("crew_speed", "percent", "100 %", "80 %", "speed with its usual crew against full speed"),
        ("stated_rate", "pieces an hour", "", "65/h", "the shop's own rate; wins over all arithmetic"),
        ("max_width", "length", "", "16 in", "widest print; empty: any"),
        ("max_height", "length", "", "20 in", "highest print; empty: any"),
        ("frame_sizes", "names", "", "23x31", "frame sizes it takes; empty: any"),
        ("pallets", "names", "", "adult, sleeve", "pallet kinds there are; empty: any"),
        ("families", "names", "", "plastisol", "ink families it prints; empty: any"),
        ("dryer", "name", "", "long", "id of the dryer it prints into"),
        ("approval", "time", "15 min", "15 min", "wait for a client's approval at the press"),
        ("set_up_crew", "crew", "print 1", "print 1", "people who set it up"),
        ("run_crew", "crew", "print 1", "print 1, catch 1", "people who run it"),
    ),
    *_section(
        "press.set_up",
        ("mount", "time", "5 min", "5 min", "set-up time to mount and register a screen"),
        ("load", "time", "2 min", "2 min", "set-up time per head that gets an ink"),
        ("card", "time", "1 min", "1 min", "set-up time to card an ink over into another screen"),
        ("swap", "time", "", "1 min", "per ink that leaves, where a spare squeegee and floodbar exist"),
        ("clean_light", "time", "3 min", "3 min", "ink clean-up of a light ink"),
        ("clean_dark", "time", "5 min", "5 min", "ink clean-up of a dark ink"),
        ("pallet", "time", "8 min", "8 min", "set-up time to change pallets"),
        ("flash_move", "time", "2 min", "3 min", "set-up time to move a flash"),
        ("strike_off", "time", "6 min", "6 min", "strike-off, one pass through the dryer included"),
    ),
    *_section(
        "press.restart",
        ("break", "time", "2 min", "3 min", "extra time to print on after a break"),
        ("night", "time", "8 min", "10 min", "extra time to print on after a night"),
    ),
    *_section(
        "press.now_on",
        ("design", "name", "", "stout mug", "design whose screens stand on it now"),
        ("inks", "names", "", "black, red", "inks that stand on it now, in print order"),
        ("pallet", "name", "", "adult", "pallets that are on it now"),
    ),
    *_section(
        "dryer",
        ("id", "name", "!", "long", "what presses call the dryer"),
        ("name", "name", "", "long dryer", "what people call it; empty: its id"),
        ("heated", "length", "!", "8 ft", "length of the heated tunnel"),
        ("belt", "length", "!", "36 in", "usable belt width"),
        ("pitch", "length", "18 in", "18 in", "belt length one garment takes"),
        ("lane", "length", "20 in", "20 in", "belt width one garment takes"),
        ("warm_up", "time", "0 min", "20 min", "time until it is hot after it is switched on"),
        ("off_after", "time", "4 h", "4 h", "stop from which it is switched off, and has to warm up again"),
        ("heat_up", "time", "", "2 min", "time to settle 10 degF hotter; empty: one setting suits all inks"),
        ("cool_down", "time", "", "3 min", "time to settle 10 degF cooler; empty: as long as heat_up"),
    ),
    *_section(
        "flash_pool",
        ("id", "name", "!", "wheels", "what presses call the flashes on wheels they share"),
        ("units", "whole number", "!", "2", "how many flashes there are for all of them"),
    ),
    *_section(
        "screen_room",
        ("crew", "crew", "screens 1", "screens 1", "people for one burn"),
        ("exposure_units", "whole number", "1", "1", "exposure units"),
        ("per_exposure", "whole number", "1", "2", "screens in one exposure"),
        ("expose", "time", "4 min", "3 min", "exposing time"),
        ("wash_out", "time", "5 min", "4 min", "wash-out time per screen"),
        ("dry", "time", "45 min", "40 min", "drying time after the wash-out"),
        ("tape_each", "time", "2 min", "1 min", "taping time per screen"),
        ("rack", "whole number", "24", "24", "places for wet screens"),
        ("idle_ok", "time", "60 min", "60 min", "longest stop a burn may span"),
        ("coat_from", "clock time", "16:00", "16:00", "when coating starts each day"),
        ("coat_length", "time", "60 min", "60 min", "how long coating is booked"),
        ("coat_each", "time", "3 min", "2 min", "coating time per screen"),
        ("coat_places", "whole number", "24", "30", "places for coated screens to dry"),
        (
            "ready_after",
            "time",
            "",
            "3 h",
            "time in the cabinet until a coated screen is ready; empty: by next opening",
        ),
        ("reclaim_from", "clock time", "14:00", "13:15", "when reclaiming starts each day"),
        ("reclaim_length", "time", "60 min", "75 min", "how long reclaiming is booked"),
        ("reclaim_each", "time", "8 min", "4 min", "reclaiming time per screen"),
        ("default_frame", "name", "23x31", "23x31", "frame size where none is named"),
        ("burn_cost", "money", "9", "9", "cost of burning a screen"),
        (
            "ready_ahead",
            "time",
            "",
            "4 h",
            "open time burned screens should stand ready before their set-up; empty: 4 h, with one press 0 h",
        ),
        ("not_ahead_cost", "money", "0.01", "0.01", "cost of each minute they stand ready later than that"),
    ),
    *_section(
        "frames",
        ("size", "name", "!", "23x31", "frame size"),
        ("mesh", "threads per inch", "!", "156", "mesh"),
        ("count", "whole number", "!", "80", "frames of this size and mesh, coated and burned ones included"),
        ("coated", "whole number", "0", "26", "how many of them hang coated and ready now"),
        ("ink_volume", "cm³ a m²", "", "25", "ink its mesh lays down, by the maker's sheet; empty: from its threads"),
    ),
    *_section(
        "person",
        ("id", "name", "!", "marta", "what sheets call them"),
        ("name", "name", "", "Marta", "what people call them; empty: their id"),
        ("roles", "names", "!", "print, stage", "what they can do, in the shop's own words"),
        ("presses", "names", "", "auto-1, auto-2", "presses they can run; empty: all"),
        ("days_off", "days", "", "2026-03-05 to 2026-03-06", "days they are not in"),
    ),
    *_section(
        "people",
        (
            "lead_covers",
            "whole number",
            "1",
            "2",
            "presses that one lead (the role lead in a press crew) watches at once",
        ),
        ("least_stay", "time", "30 min", "20 min", "least time at a press for whoever is sent there"),
    ),
    *_section(
        "stations",
        ("name", "name", "!", "embroidery", "what orders call the station"),
        ("crew", "crew", "none", "stitch 1", "people for one order on it"),
        ("at_once", "whole number", "1", "2", "orders it can work on at the same time"),
        ("rate", "pieces an hour", "", "40/h", "pieces an hour; or each, or days"),
        ("each", "time", "", "90 s", "time for a piece; instead of rate"),
        ("days", "whole number", "", "3", "working days away, for work sent out; instead of rate"),
    ),
    *_section(
        "carrier",
        ("name", "name", "!", "Parcel Run", "what orders call the carrier"),
        ("days", "weekdays", "mon-fri", "mon-fri", "days on which the carrier comes"),
        ("pick_up", "clock time", "!", "16:00", "time by which parcels must be packed"),
        ("transit", "whole number", "1", "2", "days in transit"),
    ),
    *_section(
        "overtime",
        ("day", "day", "!", "2026-03-07", "the day of the overtime"),
        ("from", "clock time", "!", "07:00", "from"),
        ("to", "clock time", "!", "12:00", "to"),
        ("price", "money", "!", "390", "what it costs"),
        ("presses", "names", "", "auto-1", "presses it opens; empty: all"),
        ("people", "names", "", "marta, ivo", "people it asks in; empty: all"),
    ),
    *_section(
        "ink",
        ("tunnel", "time in seconds", "", "60 s", "time in the tunnel"),
        ("longest_tunnel", "time in seconds", "", "180 s", "most time it stands in the tunnel; empty: any"),
        ("cure", "temperature", "", "320 degF", "temperature it cures at"),
        ("flash", "time in seconds", "", "7 s", "flash seconds"),
        ("idle_ok", "time or overnight", "overnight", "20 min", "how long the ink may stand in the mesh"),
        ("pot_life", "time or none", "none", "6 h", "how long a mixed batch lasts; discharge 6 h"),
        ("remix", "time", "10 min", "15 min", "press time for a further batch, where it has a pot life"),
    ),
    *_section(
        "money",
        ("currency", "three letters", "", "EUR", "the shop's money"),
        ("late_firm", "money", "400", "400", "cost of a late day of a firm order"),
        ("late_normal", "money", "150", "150", "cost of a late day of a normal order"),
        ("late_easy", "money", "50", "50", "cost of a late day of an easy order"),
        ("cushion", "money", "10", "10", "cost of packing shortly before the pick-up"),
        ("cushion_within", "time", "4 h", "4 h", "what shortly before means, in open hours"),
        ("person_hour", "money", "22", "22", "cost of a person's hour"),
        ("move", "money", "5", "5", "cost of moving an announced run"),
        ("move_free", "time", "30 min", "30 min", "how far an announced run may move for nothing"),
    ),
    *_section(
        "defaults",
        ("family", "ink family", "plastisol", "plastisol", "ink family where none is named"),
        ("firm", "firm, normal or easy", "normal", "normal", "how much a late day hurts where nothing is said"),
        ("white_on_dark", "way", "two screens", "same screen twice", "how white on dark garments is printed"),
        ("mesh_base", "threads per inch", "156", "156", "mesh of underbases"),
        ("mesh_white", "threads per inch", "156", "156", "mesh of white"),
        ("mesh_colour", "threads per inch", "230", "230", "mesh of colours"),
        ("spare", "percent", "0 %", "2 %", "spare pieces where nothing was counted in"),
        ("carrier", "name", "collected", "collected", "who takes orders away where nothing is said"),
        ("width", "length", "12 in", "12 in", "width of a print where none is said"),
        ("height", "length", "14 in", "14 in", "height of a print where none is said"),
        ("finish_each", "time in seconds", "15 s", "8 s", "packing time per piece"),
        (
            "finish_lag",
            "time",
            "15 min",
            "20 min",
            "time from the start of an order's last run until packing may start",
        ),
        ("last_box", "time", "5 min", "5 min", "time from the last piece until the order is packed"),
        ("between", "time", "0 min", "15 min", "wait before the next print on the same garments"),
        (
            "dark_inks",
            "names",
            "black, navy, red, royal, green, purple, brown",
            "black, navy",
            "inks that are hard to clean up",
        ),
    ),
    *_section(
        "outlook",
        ("set_up_spread", "percent", "20 %", "15 %", "how far set-ups stray from the plan, two in three of them"),
        ("print_spread", "percent", "8 %", "10 %", "how far printing strays from the plan, two in three times"),
        ("reprints", "percent", "6 %", "4 %", "runs of which pieces must be printed again"),
        ("broken_screens", "percent", "2 %", "1 %", "runs that lose a screen"),
        ("screen_time", "time", "75 min", "60 min", "time until a run with a broken screen prints again"),
        ("stops", "percent", "3 %", "5 %", "hours of printing in which the press stops"),
        ("stop_time", "time", "25 min", "20 min", "how long such a stop lasts on average"),
        ("late_garments", "percent", "10 %", "5 %", "deliveries that come a day or two late"),
        ("late_art", "percent", "10 %", "20 %", "art that comes a day or two late"),
    ),
    *_section(
        "staging",
        ("minutes", "time", "0 min", "8 min", "time to put a cart together before a set-up"),
        ("crew", "crew", "none", "stage 1", "people who put carts together"),
    ),
    *_section(
        "paper",
        ("units", "US or metric", "US", "metric", "units that stand first on paper; the others stand beside them"),
        ("size", "A4 or Letter", "Letter", "A4", "size of the sheets, where they are made as PDF"),
        ("coverage", "percent", "100 %", "60 %", "inked share of a print's box where the order says nothing"),
        ("screen_sheet", "clock time", "15:00", "14:30", "when the screen room gets its sheet for the night"),
    ),
    *_section("finishing", ("crew", "crew", "none", "pack 1", "people who pack")),
    *_section(
        "room_kept_free",
        (
            "minutes",
            "time",
            "45 min",
            "30 min",
            "room kept free for reprints at the end of each press's day",
        ),
    ),
)

SETTING = {one.name: one for one in SETTINGS}
"""Settings by dotted name."""

GARMENTS = "defaults.garments"
"""Table of garment kinds: speed against a tee, in percent."""


def names_in(section: str) -> tuple[str, ...]:
    """Names that may stand directly in a section, tables within it included."""
    before = f"{section}." if section else ""
    inside = [one.name.removeprefix(before) for one in SETTINGS if one.name.startswith(before)]
    tables = [name.removeprefix(before) for name in (*HOURS, GARMENTS) if name.startswith(before)]
    return tuple(dict.fromkeys(name.split(".")[0] for name in (*inside, *tables)))
