"""Designs, screens, progress and announced plans with one fault each, and the exact message."""

from __future__ import annotations

from tests.inputs.bad_input import ORDERS_FILE, BadInput, edited, with_file, without
from tests.inputs.weeks import DESIGNS, ORDERS, PROGRESS, SCREENS, SHOP

BAD_SIDE_FILES: tuple[BadInput, ...] = (
    BadInput(
        name="no orders",
        files=without(ORDERS_FILE),
        expected=("orders.csv: is not there; add it to the week's folder",),
    ),
    BadInput(
        name="empty orders",
        files=with_file(ORDERS_FILE, ""),
        expected=(
            (
                "orders.csv: is empty; "
                "give it the headings order, client, due, garment, shade, pieces, location, inks, blanks, art"
            ),
        ),
    ),
    BadInput(
        name="only headings",
        files=with_file(ORDERS_FILE, ORDERS.splitlines()[0] + "\n"),
        expected=("orders.csv: holds headings and no orders; add a row for each print location",),
    ),
    BadInput(
        name="not text",
        files=with_file(ORDERS_FILE, b"\x00\x01\x02"),
        expected=("orders.csv:1: holds signs that are no text; save it as CSV UTF-8",),
    ),
    BadInput(
        name="utf 16",
        files=with_file(ORDERS_FILE, ORDERS.encode("utf-16")),
        expected=("orders.csv: is text in UTF-16; save it as CSV UTF-8",),
    ),
    BadInput(
        name="neither utf8 nor 1252",
        files=with_file(
            ORDERS_FILE, ORDERS.replace("Brewery", "\u00e9").encode("latin-1").replace(b"\xe9", b"\x81\xff")
        ),
        expected=("orders.csv: is not text in UTF-8 or Windows-1252; save it as CSV UTF-8",),
    ),
    BadInput(
        name="open quote",
        files=edited(ORDERS_FILE, ('"S 20, M 60, L 64"', '"S 20, M 60, L 64')),
        expected=(
            (
                "orders.csv:2: has a quote that does not end; "
                'close every quote, and write a quote inside a cell twice: "the ""big"" one"'
            ),
        ),
    ),
    BadInput(
        name="no heading",
        files=edited(
            ORDERS_FILE,
            ("order,client,due,in hands,garment,shade,pieces", "order,client,due,in hands,garment,shade,pcs"),
        ),
        expected=("orders.csv:1:pieces: the heading 'pieces' is missing; rename 'pcs' to pieces",),
    ),
    BadInput(
        name="misspelt heading",
        files=edited(ORDERS_FILE, ("location,inks", "locaton,inks")),
        expected=("orders.csv:1:location: the heading 'location' is missing; rename 'locaton' to location",),
    ),
    BadInput(
        name="heading twice",
        files=edited(ORDERS_FILE, ("note,carrier", "note,note")),
        expected=("orders.csv:1:note: heading 'note' stands here twice; keep one of them",),
    ),
    BadInput(
        name="too many cells",
        files=edited(ORDERS_FILE, ("150,20 s", "150,20 s,and,more")),
        expected=(
            (
                "orders.csv:2: has 39 cells under 37 headings; "
                'put a cell that holds the separator in quotes, as "white, red"'
            ),
        ),
    ),
    BadInput(
        name="design twice",
        files=with_file("designs.csv", DESIGNS + "Stout Mug,white,,,,,,\n"),
        expected=("designs.csv:4:design: design Stout Mug stands in line 2 already; keep one of the two rows",),
    ),
    BadInput(
        name="screens state",
        files=edited("screens.csv", ("old anchor,burned", "old anchor,burnt out")),
        expected=("screens.csv:2:state: 'burnt out' is no state of screens; write burned or to reclaim",),
    ),
    BadInput(
        name="screens frame",
        files=edited("screens.csv", ("burned,23x31,230", "burned,23x31,305")),
        expected=(
            (
                "screens.csv:2:mesh: the shop has no 23x31 frames with 305 mesh; "
                "add [[frames]] to the shop, or write 23x31 156 or 23x31 230"
            ),
        ),
    ),
    BadInput(
        name="screens too many",
        files=edited("screens.csv", ("burned,23x31,230,1", "burned,23x31,230,23")),
        expected=(
            (
                "screens.csv:screens: 24 burned and 8 coated are more than the 30 23x31 frames with 230 mesh; "
                "correct what hangs"
            ),
        ),
    ),
    BadInput(
        name="screens count missing",
        files=edited("screens.csv", ("to reclaim,23x31,156,2", "to reclaim,23x31,156,")),
        expected=("screens.csv:3:screens: is empty; write it as 2",),
    ),
    BadInput(
        name="progress order",
        files=edited("progress.csv", ("4102,front", "4120,front")),
        expected=("progress.csv:2:order: '4120' is no order of this week; correct it, or take the row out",),
    ),
    BadInput(
        name="progress location",
        files=edited("progress.csv", ("4102,front", "4102,sleeve")),
        expected=("progress.csv:2:location: 'sleeve' is no location of order 4102; write front or back",),
    ),
    BadInput(
        name="progress shade",
        files=edited("progress.csv", ("front,dark", "front,")),
        expected=("progress.csv:2:shade: is empty; write light or dark: both are ordered",),
    ),
    BadInput(
        name="progress left",
        files=edited("progress.csv", ("14:25,90", "14:25,145")),
        expected=("progress.csv:2:left: 145 pieces left are more than the 144 ordered; write 144 or less",),
    ),
    BadInput(
        name="progress future",
        files=edited("progress.csv", ("2026-02-27 14:25", "2026-03-02 07:30")),
        expected=(
            (
                "progress.csv:2:started: it started after the planning moment 2026-03-02 07:00; "
                "write when it started, or take the row out"
            ),
        ),
    ),
    BadInput(
        name="progress two",
        files=with_file("progress.csv", PROGRESS + "4102,back,dark,auto-1,2026-02-27 15:25,90,\n"),
        expected=(
            (
                "progress.csv:3:press: auto-1 has started 4102 front already and holds one run only; "
                "write 0 left for the one that is done"
            ),
        ),
    ),
    BadInput(
        name="announced",
        files=with_file("announced.json", "{}"),
        expected=('announced.json: is not a plan file of this program; its "format" must be "pressweek plan"',),
    ),
    BadInput(
        name="many at once",
        files={
            **edited(
                ORDERS_FILE,
                ("Brewery,2026-03-05", "Brewery,31/02/2026"),
                ("Royal Hoodie,,40", "Royal Hoodie,,forty"),
                ("not manual", "not manuel"),
            ),
            "shop.toml": SHOP.replace("heads = 4", "heads = 0"),
            "screens.csv": SCREENS.replace("old anchor,burned", "old anchor,burnt out"),
        },
        expected=(
            "orders.csv:2:due: '31/02/2026' is not a date; write it as 2026-02-28",
            "orders.csv:4:press: 'manuel' is no press of the shop; did you mean manual?",
            "orders.csv:5:pieces: 'forty' is not a whole number; write it as 144",
            "screens.csv:2:state: 'burnt out' is no state of screens; write burned or to reclaim",
            "shop.toml:54:press.2.heads: '0' is less than 1; write 1 or more",
        ),
    ),
    BadInput(
        name="progress twice",
        files=with_file("progress.csv", PROGRESS + "4102,front,dark,manual,2026-02-27 15:25,90,\n"),
        expected=("progress.csv:3:location: order 4102, front stands in line 2 already; keep one of the two rows",),
    ),
    BadInput(
        name="progress wrong shade",
        files=edited("progress.csv", ("4102,front,dark", "4102,back,light")),
        expected=("progress.csv:2:shade: order 4102 has no light garments there; write dark",),
    ),
    BadInput(
        name="screens twice",
        files=with_file("screens.csv", SCREENS + "old anchor,burned,23x31,230,1\n"),
        expected=(
            ("screens.csv:6:mesh: old anchor: 23x31 frames with 230 mesh stand here twice; add them up in one row"),
        ),
    ),
    BadInput(
        name="screens heading",
        files=edited("screens.csv", ("design,state", "design,status")),
        expected=("screens.csv:1:state: the heading 'state' is missing; rename 'status' to state",),
    ),
    BadInput(
        name="announced json",
        files=with_file("announced.json", "{"),
        expected=(
            (
                "announced.json:1: is not JSON: Expecting property name enclosed in double quotes; "
                "take the file as it was made, or mend this line"
            ),
        ),
    ),
)
