"""Hours, people, carriers, overtime, money and defaults with one fault each, and the exact message."""

from __future__ import annotations

from tests.inputs.bad_input import SHOP_FILE, BadInput, edited, with_file
from tests.inputs.weeks import SHOP

BAD_SHOPS: tuple[BadInput, ...] = (
    BadInput(
        name="no zone",
        files=edited(SHOP_FILE, ('zone = "Europe/Lisbon"\n', "")),
        expected=('shop.toml:zone: is missing; write it as zone = "Europe/Lisbon"',),
    ),
    BadInput(
        name="zone unknown",
        files=edited(SHOP_FILE, ("Europe/Lisbon", "Europe/Lisboa")),
        expected=("shop.toml:2:zone: 'Europe/Lisboa' is no time zone; did you mean Europe/Lisbon?",),
    ),
    BadInput(
        name="no plan from",
        files=edited(SHOP_FILE, ('plan_from = "2026-03-02 07:00"\n', "")),
        expected=('shop.toml:plan_from: is missing; write it as plan_from = "2026-03-02 07:00"',),
    ),
    BadInput(
        name="dates faulty",
        files=edited(SHOP_FILE, ('"day first"', '"day last"')),
        expected=("shop.toml:5:dates: 'day last' is no order of day and month; write day first or month first",),
    ),
    BadInput(
        name="hours overlap",
        files=edited(SHOP_FILE, ("07:00-12:00, 12:30-16:00", "07:00-12:00, 11:30-16:00")),
        expected=(
            (
                "shop.toml:9:hours.mon-fri: '07:00-12:00, 11:30-16:00': the pieces overlap or are out of order; "
                "write them one after the other, as 07:00-12:00, 12:30-16:00"
            ),
        ),
    ),
    BadInput(
        name="hours day twice",
        files=edited(SHOP_FILE, ('sat = "closed"', 'fri-sat = "closed"')),
        expected=("shop.toml:10:hours.fri-sat: Friday stands in mon-fri and in fri-sat; name every weekday once",),
    ),
    BadInput(
        name="hours weekday",
        files=edited(SHOP_FILE, ('sat = "closed"', 'satday = "closed"')),
        expected=("shop.toml:10:hours.satday: 'satday' is not weekdays; write them as mon-fri, or mon, wed, sat",),
    ),
    BadInput(
        name="person without role",
        files=edited(SHOP_FILE, ('roles = "print, stage"', 'roles = "none"')),
        expected=('shop.toml:person.1.roles: marta has no role; write what they can do, as roles = "print, stage"',),
    ),
    BadInput(
        name="role nobody has",
        files=edited(SHOP_FILE, ('crew = "stage 1"', 'crew = "staging 1"')),
        expected=("shop.toml:staging.crew: nobody has the role 'staging'; did you mean stage?",),
    ),
    BadInput(
        name="two leads on one press",
        files=edited(
            SHOP_FILE,
            ('run_crew = "print 1, catch 1"', 'run_crew = "lead 2"'),
            (
                'roles = "print, stage"',
                'roles = "lead"\n\n[people]\nlead_covers = 2\n\n[[person]]\nid = "x"\nroles = "print, stage, lead"',
            ),
        ),
        expected=("shop.toml:press.1.run_crew: asks for 2 leads, where one lead watches 2 presses; write lead 1",),
    ),
    BadInput(
        name="leads at different presses",
        files=edited(
            SHOP_FILE,
            ('run_crew = "print 1, catch 1"', 'run_crew = "print 1, lead 1"'),
            ('roles = "print, stage"\npresses = "auto-1"', 'roles = "print, lead"\npresses = "manual"'),
            (
                'roles = "print, catch, screens, pack"',
                'roles = "print, lead, screens, stage, pack"\n[people]\nlead_covers = 3',
            ),
        ),
        expected=(
            "shop.toml:person.2.presses: ivo and marta lead and do other work, and do not lead at the same presses; "
            "name the same presses for both, give one of them the role lead alone, or write lead_covers = 1",
        ),
    ),
    BadInput(
        name="leads cover nothing",
        files=edited(SHOP_FILE, ("[[carrier]]", "[people]\nlead_covers = 0\n\n[[carrier]]")),
        expected=("shop.toml:115:people.lead_covers: '0' is less than 1; write 1 or more",),
    ),
    BadInput(
        name="person press unknown",
        files=edited(SHOP_FILE, ('presses = "auto-1"\nhours', 'presses = "auto-9"\nhours')),
        expected=("shop.toml:person.1.presses: 'auto-9' is no press of the shop; did you mean auto-1?",),
    ),
    BadInput(
        name="overtime in hours",
        files=edited(SHOP_FILE, ('from = "16:00"', 'from = "15:00"')),
        expected=(
            (
                "shop.toml:overtime.1.from: overlaps normal hours, 07:00-16:00; "
                "write only the time before or after normal hours"
            ),
        ),
    ),
    BadInput(
        name="overtime overlaps",
        files=with_file(
            SHOP_FILE,
            SHOP.replace(
                "[ink.plastisol]",
                '[[overtime]]\nday = "2026-03-04"\nfrom = "18:00"\nto = "20:00"\nprice = 90\n\n[ink.plastisol]',
            ),
        ),
        expected=(
            ("shop.toml:overtime.2.from: overlaps overtime.1, 16:00-19:00; let one offer start where the other ends"),
        ),
    ),
    BadInput(
        name="overtime person",
        files=edited(SHOP_FILE, ('people = "marta, ivo"', 'people = "marta, iva"')),
        expected=("shop.toml:overtime.1.people: 'iva' is no person of the shop; did you mean ivo?",),
    ),
    BadInput(
        name="overtime price",
        files=edited(SHOP_FILE, ("price = 180", 'price = "a lot"')),
        expected=("shop.toml:124:overtime.1.price: 'a lot' is not an amount of money; write it as 150 or 12.50",),
    ),
    BadInput(
        name="closure ends first",
        files=edited(SHOP_FILE, ('to = "2026-03-04 15:00"', 'to = "2026-03-04 12:00"')),
        expected=("shop.toml:closure.2.to: ends before it starts; write the later moment as to",),
    ),
    BadInput(
        name="closure what",
        files=edited(SHOP_FILE, ('what = "manual"', 'what = "canteen"')),
        expected=(
            (
                "shop.toml:closure.2.what: 'canteen' is no press, dryer, person or place of the shop; "
                "write auto-1, manual, long, marta, ivo, screens or packing"
            ),
        ),
    ),
    BadInput(
        name="holidays",
        files=edited(SHOP_FILE, ("days_ahead = 10", 'days_ahead = 10\nholidays = "ZZ"')),
        expected=(
            (
                "shop.toml:5:holidays: no public holidays are known for 'ZZ'; "
                "write a country, as PT, or with a part of it, as DE-BY"
            ),
        ),
    ),
    BadInput(
        name="family undescribed",
        files=with_file(SHOP_FILE, SHOP.replace("[money]", '[ink.puff]\nflash = "12 s"\n\n[money]')),
        expected=('shop.toml:ink.puff.tunnel: is missing; write it as tunnel = "60 s"',),
    ),
    BadInput(
        name="default carrier",
        files=edited(SHOP_FILE, ('carrier = "collected"', 'carrier = "Mule"')),
        expected=("shop.toml:defaults.carrier: 'Mule' is no carrier of the shop; write collected or Parcel Run",),
    ),
    BadInput(
        name="days ahead",
        files=edited(SHOP_FILE, ("days_ahead = 10", "days_ahead = 400")),
        expected=("shop.toml:4:days_ahead: '400' is more than 60; write 60 or less",),
    ),
    BadInput(
        name="plan from day",
        files=edited(SHOP_FILE, ('"2026-03-02 07:00"', '"2026-03-02"')),
        expected=("shop.toml:3:plan_from: '2026-03-02' has no clock time; write it as 2026-03-02 15:00",),
    ),
    BadInput(
        name="plan from skipped",
        files=edited(SHOP_FILE, ('"2026-03-02 07:00"', '"2026-03-29 01:15"')),
        expected=(
            (
                "shop.toml:3:plan_from: '2026-03-29 01:15' does not exist in Europe/Lisbon; "
                "clocks go forward then: write 2026-03-29 02:15"
            ),
        ),
    ),
    BadInput(
        name="hours missing",
        files=with_file(
            SHOP_FILE,
            SHOP.replace('[hours]\nmon-fri = "07:00-12:00, 12:30-16:00"\nsat = "closed"\nsun = "closed"\n', ""),
        ),
        expected=('shop.toml:hours: is missing; write [hours] and below it mon-fri = "07:00-12:00, 12:30-16:00"',),
    ),
    BadInput(
        name="hours two ways",
        files=edited(SHOP_FILE, ('"07:00-12:00, 12:30-16:00"', '"7-4"')),
        expected=("shop.toml:9:hours.mon-fri: '7-4' can be read two ways; write it as 07:00-16:00",),
    ),
    BadInput(
        name="hours words",
        files=edited(SHOP_FILE, ('"07:00-12:00, 12:30-16:00"', '"all day"')),
        expected=(
            (
                "shop.toml:9:hours.mon-fri: 'all day' is not from one time to another; "
                "write it as 07:00-12:00, 12:30-16:00, or closed"
            ),
        ),
    ),
    BadInput(
        name="person twice",
        files=edited(SHOP_FILE, ('id = "ivo"', 'id = "Marta"')),
        expected=("shop.toml:person.2.id: 'Marta' is the name of person.1 already; give each its own",),
    ),
    BadInput(
        name="roles missing",
        files=edited(SHOP_FILE, ('roles = "print, stage"\n', "")),
        expected=('shop.toml:person.1.roles: is missing; write it as roles = "print, stage"',),
    ),
    BadInput(
        name="day off",
        files=edited(SHOP_FILE, ("2026-03-05 to 2026-03-06", "2026-03-06 to 2026-03-05")),
        expected=(
            (
                "shop.toml:108:person.1.days_off: '2026-03-06 to 2026-03-05' is no stretch of days; "
                "write the first day first, at most 60 days, as 2026-04-20 to 2026-04-24"
            ),
        ),
    ),
    BadInput(
        name="carrier twice",
        files=with_file(
            SHOP_FILE,
            SHOP.replace("[[overtime]]", '[[carrier]]\nname = "parcel run"\npick_up = "12:00"\n\n[[overtime]]'),
        ),
        expected=("shop.toml:carrier.2.name: 'parcel run' is the name of carrier.1 already; give each its own",),
    ),
    BadInput(
        name="carrier reserved",
        files=with_file(
            SHOP_FILE,
            SHOP.replace("[[overtime]]", '[[carrier]]\nname = "Collected"\npick_up = "12:00"\n\n[[overtime]]'),
        ),
        expected=(
            (
                "shop.toml:carrier.2.name: 'Collected' means that the client fetches the goods; "
                "give the carrier another name"
            ),
        ),
    ),
    BadInput(
        name="carrier pick up",
        files=edited(SHOP_FILE, ('pick_up = "15:00"\n', "")),
        expected=('shop.toml:carrier.1.pick_up: is missing; write it as pick_up = "16:00"',),
    ),
    BadInput(
        name="overtime no time",
        files=edited(SHOP_FILE, ('to = "19:00"', 'to = "16:00"')),
        expected=("shop.toml:overtime.1.to: starts and ends at the same time; write when it ends, as 18:00",),
    ),
    BadInput(
        name="closure untold",
        files=edited(SHOP_FILE, ('day = "2026-03-10"\n', "")),
        expected=('shop.toml:closure.1.day: is missing; write day = "2026-03-06", or from and to',),
    ),
    BadInput(
        name="closure both",
        files=edited(SHOP_FILE, ('day = "2026-03-10"\n', 'day = "2026-03-10"\nfrom = "2026-03-10 12:00"\n')),
        expected=("shop.toml:closure.1.day: stands beside from and to; write the day, or from and to",),
    ),
    BadInput(
        name="currency",
        files=edited(SHOP_FILE, ('"EUR"', '"Euro"')),
        expected=("shop.toml:139:money.currency: 'Euro' is no currency; write three letters, as EUR",),
    ),
    BadInput(
        name="money fine",
        files=edited(SHOP_FILE, ('"120.50"', '"120.505"')),
        expected=("shop.toml:141:money.late_normal: '120.505' can be read two ways; write 120505",),
    ),
    BadInput(
        name="percent",
        files=edited(SHOP_FILE, ('spare = "2 %"', 'spare = "200 %"')),
        expected=("shop.toml:156:defaults.spare: '200 %' is not between 0 and 50; write it as 2 %",),
    ),
    BadInput(
        name="idle ok",
        files=edited(SHOP_FILE, ('idle_ok = "15 min"', 'idle_ok = "a while"')),
        expected=("shop.toml:136:ink.water-based.idle_ok: 'a while' is not a time; write it as 20 min, or overnight",),
    ),
    BadInput(
        name="default family",
        files=edited(SHOP_FILE, ('family = "plastisol"', 'family = "plastisoll"')),
        expected=("shop.toml:defaults.family: 'plastisoll' is no ink family of the shop; did you mean plastisol?",),
    ),
    BadInput(
        name="default firm",
        files=edited(SHOP_FILE, ('firm = "easy"', 'firm = "soft"')),
        expected=("shop.toml:151:defaults.firm: 'soft' is no firmness; write firm, normal or easy",),
    ),
    BadInput(
        name="garment speed",
        files=edited(SHOP_FILE, ("fleece = 70", 'fleece = "slow"')),
        expected=("shop.toml:157:defaults.garments.fleece: 'slow' is not a number; write it as 75 %",),
    ),
    BadInput(
        name="list of lists",
        files=edited(SHOP_FILE, ('dark_inks = "black, navy"', 'dark_inks = [["black"], ["navy"]]')),
        expected=('shop.toml:165:defaults.dark_inks: is a list of lists; write it as "auto-1, auto-2"',),
    ),
    BadInput(
        name="family facts",
        files=with_file(SHOP_FILE, SHOP.replace("[ink.plastisol]", '[ink]\npuff = "12 s"\n\n[ink.plastisol]')),
        expected=("shop.toml:ink.puff: is no table of settings; write it as a section [ink.puff]",),
    ),
)
