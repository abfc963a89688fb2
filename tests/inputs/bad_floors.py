"""Presses, dryers, screen rooms and frames of a shop with one fault each, and the exact message."""

from __future__ import annotations

from tests.inputs.bad_input import SHOP_FILE, BadInput, edited, with_file, without
from tests.inputs.weeks import SHOP

PACK_LINE = SHOP[: SHOP.index('crew = "pack 1"')].count("\n") + 1
"""The line that says who packs."""

SHARED_FLASHES = ("[[dryer]]", '[[flash_pool]]\nid = "wheels"\nunits = 2\n\n[[dryer]]')
"""Two flashes on wheels beside the first dryer."""

BAD_FLOORS: tuple[BadInput, ...] = (
    BadInput(
        name="no shop",
        files=without(SHOP_FILE),
        expected=("shop.toml: is not there; add it to the week's folder",),
    ),
    BadInput(
        name="bad toml",
        files=edited(SHOP_FILE, ('zone = "Europe/Lisbon"', "zone = Europe/Lisbon")),
        expected=(
            (
                "shop.toml:2: cannot be read here: invalid value; "
                'write name = "value", texts in quotes, sections as [hours] or [[press]]'
            ),
        ),
    ),
    BadInput(
        name="unclosed toml",
        files=edited(SHOP_FILE, ('crew = "pack 1"', 'crew = "pack 1')),
        expected=(
            (
                f"shop.toml:{PACK_LINE}: cannot be read here: illegal character '\\n'; "
                'write name = "value", texts in quotes, sections as [hours] or [[press]]'
            ),
        ),
    ),
    BadInput(
        name="no press",
        files=with_file(
            SHOP_FILE,
            SHOP[: SHOP.index("[[press]]")] + SHOP[SHOP.index("[[dryer]]") :].replace('presses = "auto-1"\n', ""),
        ),
        expected=(
            ('shop.toml:press: is missing; write [[press]] and below it id = "auto-1", kind = "automatic", heads = 8'),
        ),
    ),
    BadInput(
        name="press twice",
        files=edited(SHOP_FILE, ('id = "manual"', 'id = "Auto-1"')),
        expected=("shop.toml:press.2.id: 'Auto-1' is the name of press.1 already; give each its own",),
    ),
    BadInput(
        name="press kind",
        files=edited(SHOP_FILE, ('kind = "manual"', 'kind = "carousel"')),
        expected=("shop.toml:53:press.2.kind: 'carousel' is no kind of press; write automatic or manual",),
    ),
    BadInput(
        name="heads missing",
        files=edited(SHOP_FILE, ("heads = 4\n", "")),
        expected=("shop.toml:press.2.heads: is missing; write it as heads = 8",),
    ),
    BadInput(
        name="heads zero",
        files=edited(SHOP_FILE, ("heads = 4", "heads = 0")),
        expected=("shop.toml:54:press.2.heads: '0' is less than 1; write 1 or more",),
    ),
    BadInput(
        name="dryer unknown",
        files=edited(SHOP_FILE, ('dryer = "long"', 'dryer = "lang"')),
        expected=("shop.toml:press.1.dryer: 'lang' is no dryer of the shop; did you mean long?",),
    ),
    BadInput(
        name="flash pool unknown",
        files=edited(SHOP_FILE, ('dryer = "long"', 'dryer = "long"\nflash_pool = "weels"'), SHARED_FLASHES),
        expected=("shop.toml:press.1.flash_pool: 'weels' is no flash pool of the shop; did you mean wheels?",),
    ),
    BadInput(
        name="flash pool twice",
        files=edited(SHOP_FILE, ("[[dryer]]", SHARED_FLASHES[1].replace("[[dryer]]", "") + SHARED_FLASHES[1])),
        expected=("shop.toml:flash_pool.2.id: 'wheels' is the name of flash_pool.1 already; give each its own",),
    ),
    BadInput(
        name="flash pool of none",
        files=edited(SHOP_FILE, (SHARED_FLASHES[0], SHARED_FLASHES[1].replace("units = 2", "units = 0"))),
        expected=("shop.toml:59:flash_pool.1.units: '0' is less than 1; write 1 or more",),
    ),
    BadInput(
        name="length no unit",
        files=edited(SHOP_FILE, ('heated = "10 ft"', "heated = 10")),
        expected=("shop.toml:60:dryer.1.heated: '10' has no unit; write it with one, as 8 ft",),
    ),
    BadInput(
        name="length in seconds",
        files=edited(SHOP_FILE, ('belt = "36 in"', 'belt = "36 s"')),
        expected=("shop.toml:61:dryer.1.belt: '36 s' is not a length; write it as 36 in",),
    ),
    BadInput(
        name="coated more than count",
        files=edited(SHOP_FILE, ("coated = 12", "coated = 41")),
        expected=("shop.toml:frames.1.coated: 41 coated are more than the 40 frames there are; write 40 or less",),
    ),
    BadInput(
        name="frames twice",
        files=edited(SHOP_FILE, ("mesh = 230", "mesh = 156")),
        expected=(
            ("shop.toml:frames.2.size: frames 23x31 with 156 mesh stand here twice; add them up in one [[frames]]"),
        ),
    ),
    BadInput(
        name="setting is table",
        files=edited(SHOP_FILE, ('name = "Harbour Row Prints"', 'name = { short = "HRP" }')),
        expected=('shop.toml:name: is a table where one value is wanted; write it as name = "Ostermoor Shirtworks"',),
    ),
    BadInput(
        name="table is value",
        files=with_file(
            SHOP_FILE,
            SHOP[: SHOP.index("[screen_room]")].replace("days_ahead = 10", 'days_ahead = 10\nscreen_room = "yes"')
            + SHOP[SHOP.index("[[frames]]") :],
        ),
        expected=(
            (
                "shop.toml:5:screen_room: is no table of settings; "
                "write it as a section [screen_room] with its settings below"
            ),
        ),
    ),
    BadInput(
        name="too many inks on press",
        files=edited(SHOP_FILE, ('inks = "white, gold", pallet', 'inks = "a, b, c, d, e, f, g, h, i", pallet')),
        expected=("shop.toml:press.1.now_on.inks: 9 inks stand on 8 heads; write what stands on it, in print order",),
    ),
    BadInput(
        name="hours long night",
        files=edited(SHOP_FILE, ('mon-fri = "07:00-16:00" }\nset_up_crew', 'mon-fri = "07:00-04:00" }\nset_up_crew')),
        expected=(
            (
                "shop.toml:43:press.1.hours.mon-fri: '07:00-04:00' would run past midnight for 21 hours; "
                "write the earlier time first, as 07:00-15:00"
            ),
        ),
    ),
    BadInput(
        name="clock time",
        files=edited(SHOP_FILE, ('coat_from = "15:00"', 'coat_from = "25:00"')),
        expected=("shop.toml:76:screen_room.coat_from: '25:00' is not a clock time; write it as 07:30",),
    ),
    BadInput(
        name="crew words",
        files=edited(SHOP_FILE, ('run_crew = "print 1, catch 1"', 'run_crew = "1"')),
        expected=(
            (
                "shop.toml:45:press.1.run_crew: '1' is no role with a number of people; "
                "write roles and how many, as print 1, catch 1"
            ),
        ),
    ),
    BadInput(
        name="crew role twice",
        files=edited(SHOP_FILE, ('run_crew = "print 1, catch 1"', 'run_crew = "print 1, print 1"')),
        expected=("shop.toml:45:press.1.run_crew: role 'print' stands here twice; write print once, with the number",),
    ),
    BadInput(
        name="press without id",
        files=edited(SHOP_FILE, ('id = "manual"\n', "")),
        expected=('shop.toml:press.2.id: is missing; write it as id = "auto-1"',),
    ),
    BadInput(
        name="flash place",
        files=edited(SHOP_FILE, ('"in a head"', '"on the roof"')),
        expected=(
            (
                "shop.toml:28:press.1.flash_place: 'on the roof' is no place of a flash; "
                "write over a pallet, in a head or between heads"
            ),
        ),
    ),
    BadInput(
        name="press is value",
        files=with_file(
            SHOP_FILE, 'press = "auto-1"\n' + SHOP[: SHOP.index("[[press]]")] + SHOP[SHOP.index("[[dryer]]") :]
        ),
        expected=("shop.toml:1:press: is no table of settings; write it as [[press]] with its settings below",),
    ),
    BadInput(
        name="two spellings",
        files=edited(SHOP_FILE, ("days_ahead = 10", "days_ahead = 10\nDays-Ahead = 12")),
        expected=("shop.toml:Days-Ahead: 'Days-Ahead' and 'days_ahead' are one setting; keep one of the two",),
    ),
)
