"""Orders sheets with one fault each, and the exact message."""

from __future__ import annotations

from tests.inputs.bad_input import ORDERS_FILE, SHOP_FILE, BadInput, edited, with_file
from tests.inputs.weeks import ORDERS

BAD_ORDERS: tuple[BadInput, ...] = (
    BadInput(
        name="date that is none",
        files=edited(ORDERS_FILE, ("Brewery,2026-03-05", "Brewery,31/02/2026")),
        expected=("orders.csv:2:due: '31/02/2026' is not a date; write it as 2026-02-28",),
    ),
    BadInput(
        name="date without order",
        files={**edited(SHOP_FILE, ('dates = "day first"\n', ""))},
        expected=(
            (
                "orders.csv:3:blanks: '4/3/2026' does not say which number is the month; "
                'write 2026-03-04 or 2026-04-03, or set dates = "day first" or "month first" for the shop'
            ),
        ),
    ),
    BadInput(
        name="absurd year",
        files=edited(ORDERS_FILE, ("Brewery,2026-03-05", "Brewery,1926-03-05")),
        expected=("orders.csv:2:due: '1926-03-05' is in the year 1926; write a year from 2000 to 2100",),
    ),
    BadInput(
        name="due words",
        files=edited(ORDERS_FILE, ("Brewery,2026-03-05", "Brewery,friday")),
        expected=("orders.csv:2:due: 'friday' is not a date; write it as 2026-02-28",),
    ),
    BadInput(
        name="clock time skipped",
        files=edited(ORDERS_FILE, ("2026-03-03 09:00,150", "2026-03-29 01:30,150")),
        expected=(
            (
                "orders.csv:2:lock_at: '2026-03-29 01:30' does not exist in Europe/Lisbon; "
                "clocks go forward then: write 2026-03-29 02:30"
            ),
        ),
    ),
    BadInput(
        name="lock without time",
        files=edited(ORDERS_FILE, ("2026-03-03 09:00,150", "2026-03-03,150")),
        expected=("orders.csv:2:lock_at: '2026-03-03' has no clock time; write it as 2026-03-03 15:00",),
    ),
    BadInput(
        name="pieces zero",
        files=edited(ORDERS_FILE, ("black tee,dark,144", "black tee,dark,0")),
        expected=("orders.csv:2:pieces: '0' is less than 1; write 1 or more",),
    ),
    BadInput(
        name="pieces negative",
        files=edited(ORDERS_FILE, ("Royal Hoodie,,40", "Royal Hoodie,,-40")),
        expected=("orders.csv:5:pieces: '-40' is less than 1; write 1 or more",),
    ),
    BadInput(
        name="pieces words",
        files=edited(ORDERS_FILE, ("Royal Hoodie,,40", "Royal Hoodie,,forty")),
        expected=("orders.csv:5:pieces: 'forty' is not a whole number; write it as 144",),
    ),
    BadInput(
        name="pieces two ways",
        files=edited(ORDERS_FILE, ('"1,200"', "1.200")),
        expected=("orders.csv:3:pieces: '1.200' can be read two ways; write 1200",),
    ),
    BadInput(
        name="shade unknown",
        files=edited(ORDERS_FILE, ("black tee,dark", "black tee,darkish")),
        expected=("orders.csv:2:shade: 'darkish' is no shade; write light or dark",),
    ),
    BadInput(
        name="shade untold",
        files=edited(ORDERS_FILE, ("Royal Hoodie,", "Grey Hoodie,")),
        expected=("orders.csv:5:shade: is empty; write light or dark: 'Grey Hoodie' does not tell",),
    ),
    BadInput(
        name="base last",
        files=edited(ORDERS_FILE, ('"white base, red"', '"red, white base"')),
        expected=(
            "orders.csv:5:inks: 'white base' does not come first; write the underbase first, as white base, red",
        ),
    ),
    BadInput(
        name="no inks",
        files=edited(ORDERS_FILE, ('"white base, red"', "")),
        expected=("orders.csv:5:inks: is empty; write them in print order, as white, red",),
    ),
    BadInput(
        name="blanks words",
        files=edited(ORDERS_FILE, ('"white base, red",?,?', '"white base, red",soon,?')),
        expected=(
            (
                "orders.csv:5:blanks: 'soon' is neither in nor a day; "
                "write in, a day as 2026-03-06, or ? if nobody knows"
            ),
        ),
    ),
    BadInput(
        name="blanks empty",
        files=edited(ORDERS_FILE, ('"white base, red",?,?', '"white base, red",,?')),
        expected=("orders.csv:5:blanks: is empty; write in, a day as 2026-03-06, or ? if nobody knows",),
    ),
    BadInput(
        name="art empty",
        files=edited(ORDERS_FILE, ('"white base, red",?,?', '"white base, red",?,')),
        expected=("orders.csv:5:art: is empty; write ok, a day as 2026-03-06, or ? if nobody knows",),
    ),
    BadInput(
        name="firm unknown",
        files=edited(ORDERS_FILE, ("stout mug,firm", "stout mug,very firm")),
        expected=("orders.csv:2:firm: 'very firm' is no firmness; write firm, normal or easy",),
    ),
    BadInput(
        name="unknown press",
        files=edited(ORDERS_FILE, ("not manual", "not manuel")),
        expected=("orders.csv:4:press: 'manuel' is no press of the shop; did you mean manual?",),
    ),
    BadInput(
        name="press both ways",
        files=edited(ORDERS_FILE, ("not manual", '"manual, not manual"')),
        expected=("orders.csv:4:press: press 'manual' is allowed and refused; write it once",),
    ),
    BadInput(
        name="mesh count",
        files=edited(ORDERS_FILE, ('"white base, red",?,?,,,,,', '"white base, red",?,?,,,,,"156, 230, 305"')),
        expected=(
            "orders.csv:5:mesh: 3 meshes are given for 2 inks; write one for all, or one per ink in print order",
        ),
    ),
    BadInput(
        name="unknown family",
        files=edited(ORDERS_FILE, (",,water-based,", ",,plastik,")),
        expected=("orders.csv:4:family: 'plastik' is an ink family the shop says nothing of; did you mean plastisol?",),
    ),
    BadInput(
        name="unknown carrier",
        files=edited(ORDERS_FILE, ("Parcel Run", "Parcel Fun")),
        expected=("orders.csv:5:carrier: 'Parcel Fun' is no carrier of the shop; did you mean Parcel Run?",),
    ),
    BadInput(
        name="no unit",
        files=edited(
            ORDERS_FILE,
            (
                "12 in,30 cm,23x31,adult,,15 min,yes,no,300/h,,30 min,auto-1,2026-03-03 09:00,150",
                "12,30 kg,23x31,adult,,15 min,yes,no,300/h,,30 min,auto-1,2026-03-03 09:00,150",
            ),
        ),
        expected=(
            "orders.csv:2:height: '30 kg' is not a length; write it as 14 in",
            "orders.csv:2:width: '12' has no unit; write it with one, as 12 in",
        ),
    ),
    BadInput(
        name="rate wrong",
        files=edited(ORDERS_FILE, ("300/h,,30 min", "300/kg,,30 min")),
        expected=("orders.csv:2:rate: '300/kg' is not a rate; write pieces an hour, as 300/h",),
    ),
    BadInput(
        name="money other",
        files=edited(ORDERS_FILE, (",150,20 s", ",150 USD,20 s")),
        expected=("orders.csv:2:late: '150 USD' is not in the shop's money; write the amount alone",),
    ),
    BadInput(
        name="money words",
        files=edited(ORDERS_FILE, (",150,20 s", ",much,20 s")),
        expected=("orders.csv:2:late: 'much' is not an amount of money; write it as 150 or 12.50",),
    ),
    BadInput(
        name="yes or no",
        files=edited(ORDERS_FILE, ("collected,,,yes", "collected,,,perhaps")),
        expected=("orders.csv:2:counted: 'perhaps' is neither yes nor no; write yes or no",),
    ),
    BadInput(
        name="row twice",
        files=with_file(ORDERS_FILE, ORDERS + ORDERS.splitlines()[4] + "\n"),
        expected=(
            (
                "orders.csv:6:location: Royal Hoodie, left chest stands in line 5 already; "
                "take one out, or name the location differently"
            ),
        ),
    ),
    BadInput(
        name="pieces disagree",
        files=edited(ORDERS_FILE, ("black tee,,144", "black tee,,140")),
        expected=(
            (
                "orders.csv:4:pieces: order 4102, black tee has pieces '140' here and '144' in line 2; "
                "write the same in both, leave this one empty, or name the garments differently"
            ),
        ),
    ),
    BadInput(
        name="sizes do not sum",
        files=edited(ORDERS_FILE, ("L 64", "L 65")),
        expected=("orders.csv:2:sizes: 'S 20, M 60, L 65' makes 145 pieces, not 144; correct the sizes or the pieces",),
    ),
    BadInput(
        name="client disagrees",
        files=edited(ORDERS_FILE, ("4102,,,,natural", "4102,Low Ford Elementary,,,natural")),
        expected=(
            (
                "orders.csv:3:client: order 4102 has client 'Low Ford Elementary' here and 'Fennick Street "
                "Brewery' in line 2; "
                "write the same in both, or leave this one empty"
            ),
        ),
    ),
    BadInput(
        name="both dates",
        files=edited(ORDERS_FILE, ("4103,Low Ford Elementary,,2026", "4103,Low Ford Elementary,2026-03-06,2026")),
        expected=(
            (
                "orders.csv:5:in_hands: order 4103 has both a date to leave and a date in hands; "
                "keep due or in hands, not both"
            ),
        ),
    ),
    BadInput(
        name="no date",
        files=edited(ORDERS_FILE, ("4103,Low Ford Elementary,,2026-03-09", "4103,Low Ford Elementary,,")),
        expected=("orders.csv:5:due: is empty; write it as 2026-03-06, or fill in hands instead",),
    ),
    BadInput(
        name="no client",
        files=edited(ORDERS_FILE, ("4103,Low Ford Elementary", "4103,")),
        expected=("orders.csv:5:client: is empty; write it as Fennick Street Brewery",),
    ),
    BadInput(
        name="no order id",
        files=edited(ORDERS_FILE, ("4103,Low Ford Elementary", ",Low Ford Elementary")),
        expected=("orders.csv:5:order: is empty; write it as 4102",),
    ),
    BadInput(
        name="print after unknown",
        files=edited(ORDERS_FILE, (",front,,,,,55 min", ",sleeve,,,,,55 min")),
        expected=("orders.csv:4:print_after: 'sleeve' is no location of order 4102; write front",),
    ),
    BadInput(
        name="print after itself",
        files=edited(ORDERS_FILE, (",front,,,,,55 min", ",back,,,,,55 min")),
        expected=("orders.csv:4:print_after: 'back' cannot come after itself; name another location of the order",),
    ),
    BadInput(
        name="print after circle",
        files=edited(ORDERS_FILE, ("12 in,30 cm,23x31,adult,,15 min", "12 in,30 cm,23x31,adult,back,15 min")),
        expected=(
            (
                "orders.csv:2:print_after: order 4102: front comes after itself in the end; "
                "take one of the order's print after cells out"
            ),
        ),
    ),
    BadInput(
        name="rate and run",
        files=edited(ORDERS_FILE, ("300/h,,30 min", "300/h,55 min,30 min")),
        expected=("orders.csv:2:run: both a rate and a time for the whole run are given; keep rate or run, not both",),
    ),
    BadInput(
        name="lock refused",
        files=edited(ORDERS_FILE, ('"auto-1!, manual"', "manual"), ('"auto-1!, manual"', "manual")),
        expected=(
            (
                "orders.csv:2:lock_press: it is locked to auto-1, which the press cell refuses; "
                "correct press or lock press"
            ),
        ),
    ),
    BadInput(
        name="garment missing",
        files=edited(ORDERS_FILE, ("Royal Hoodie,,40", ",dark,40")),
        expected=("orders.csv:5:garment: is empty; write it as navy tee",),
    ),
    BadInput(
        name="location missing",
        files=edited(ORDERS_FILE, ("40,left chest", "40,")),
        expected=("orders.csv:5:location: is empty; write it as left chest",),
    ),
    BadInput(
        name="too many hits",
        files=edited(ORDERS_FILE, ("white x2", "white x9")),
        expected=("orders.csv:4:inks: 'white x9' asks for 9 hits; write 1 to 4 hits, as white x2",),
    ),
    BadInput(
        name="only a base",
        files=edited(ORDERS_FILE, ('"white base, red"', "white base")),
        expected=("orders.csv:5:inks: 'white base' is an underbase alone; write what is printed on it as well",),
    ),
    BadInput(
        name="name too long",
        files=edited(ORDERS_FILE, ("Low Ford Elementary", "Low Ford " + "Elementary " * 12)),
        expected=(
            (
                "orders.csv:5:client: 'Low Ford Elementary Elementary Elementary Elementary Elemen…' is too "
                "long; "
                "write at most 120 letters"
            ),
        ),
    ),
    BadInput(
        name="mesh words",
        files=edited(ORDERS_FILE, ('"156, 230"', "fine")),
        expected=("orders.csv:2:mesh: 'fine' is not a whole number; write it as 156",),
    ),
    BadInput(
        name="finish wrong",
        files=edited(ORDERS_FILE, (",150,20 s", ",150,20 kg")),
        expected=("orders.csv:2:finish: '20 kg' is not a time in seconds; write it as 20 s",),
    ),
    BadInput(
        name="between parts",
        files=edited(ORDERS_FILE, ("adult,,15 min", "adult,,90 s")),
        expected=("orders.csv:2:between: '90 s' has parts of a minute; write 2 min",),
    ),
    BadInput(
        name="kind unknown",
        files=edited(ORDERS_FILE, (",,water-based,,", ",,water-based,flece,")),
        expected=("orders.csv:4:kind: 'flece' is no garment kind; did you mean fleece?",),
    ),
    BadInput(
        name="due times disagree",
        files=edited(ORDERS_FILE, ("4102,,,,natural", "4102,,2026-03-05 15:00,,natural")),
        expected=(
            (
                "orders.csv:3:due: order 4102 has due '2026-03-05 15:00' here and '2026-03-05' in line 2; "
                "write the same in both, or leave this one empty"
            ),
        ),
    ),
    BadInput(
        name="blanks disagree",
        files=edited(ORDERS_FILE, ("black tee,,144,back,white x2,,", "black tee,,144,back,white x2,2026-03-04,")),
        expected=(
            (
                "orders.csv:4:blanks: order 4102, black tee has blanks '2026-03-04' here and 'in' in line 2; "
                "write the same in both, leave this one empty, or name the garments differently"
            ),
        ),
    ),
    BadInput(
        name="design prints twice",
        files=edited(ORDERS_FILE, ("144,back,", "144,front,")),
        expected=(
            (
                "orders.csv:4:location: black tee, front stands in line 2 already; "
                "take one out, or name the location differently"
            ),
        ),
    ),
)
