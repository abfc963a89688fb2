"""What the settings of a shop must agree on among themselves: names that exist, roles somebody has, overtime apart."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime, time, timedelta

from scheduler.domain.leads import LEAD
from scheduler.domain.shop import Closure, Hours, OvertimeOffer, Shop
from scheduler.domain.week import Crew
from scheduler.inputs.faults import Faults, Place, key_of, nearest, one_of, quoted
from scheduler.inputs.ink_families import START_VALUES
from scheduler.inputs.moments import DAY_MIN
from scheduler.inputs.shop_people import COLLECTED, SHARED_PLACES, UNREAD_DAY
from scheduler.inputs.shop_reader import ShopRead

Span = tuple[int, int]


def check_shop(read: ShopRead, faults: Faults) -> None:
    """Note every contradiction between settings that were read rightly by themselves."""
    checks = _Checks(read, faults)
    checks.names()
    checks.crews()
    checks.leads()
    checks.now_on()
    checks.overtime()


class _Checks:
    def __init__(self, read: ShopRead, faults: Faults) -> None:
        self._shop: Shop = read.shop
        self._file = read.file
        self._in_doubt, self._now = read.in_doubt, read.now
        self._faults = faults

    def _add(self, setting: str, code: str, message: str, hint: str) -> None:
        self._faults.add(Place(file=self._file, column=setting), code, message, hint)

    def _known(self, setting: str, names: Iterable[str], known: Iterable[str], what: str) -> None:
        """Every one of the names is known; nothing is said where the known ones are in doubt."""
        named = ("press", "dryer", "flash pool", "person", "carrier", "ink")
        if any(section.replace(" ", "_") in self._in_doubt for section in named if section in what):
            return
        spelled = {key_of(one): one for one in known}
        for name in names:
            if key_of(name) not in spelled:
                near = nearest(name, spelled.values())
                hint = f"did you mean {near}?" if near else one_of(tuple(spelled.values()))
                self._add(setting, f"no_such_{what.split()[0].strip(',')}", f"{quoted(name)} is no {what}", hint)

    def names(self) -> None:
        """Presses, dryers, people and carriers that settings refer to are there."""
        shop = self._shop
        presses = [one.press_id for one in shop.presses]
        dryers = [one.dryer_id for one in shop.dryers]
        people = [one.person_id for one in shop.people]
        for number, press in enumerate(shop.presses, start=1):
            if press.dryer_id is not None:
                self._known(f"press.{number}.dryer", [press.dryer_id], dryers, "dryer of the shop")
            if press.flash_pool is not None:
                pools = [one.pool_id for one in shop.flash_pools]
                self._known(f"press.{number}.flash_pool", [press.flash_pool], pools, "flash pool of the shop")
        for number, person in enumerate(shop.people, start=1):
            self._known(f"person.{number}.presses", person.press_ids, presses, "press of the shop")
        for number, offer in enumerate(shop.overtime, start=1):
            self._known(f"overtime.{number}.presses", offer.press_ids, presses, "press of the shop")
            self._known(f"overtime.{number}.people", offer.person_ids, people, "person of the shop")
        places = (*presses, *dryers, *people, *SHARED_PLACES, *(one.name for one in shop.stations))
        typed = [one for one in shop.closures if one.what]
        for closure in typed:
            number = shop.closures.index(closure) + 1
            self._known(f"closure.{number}.what", [closure.what], places, "press, dryer, person or place of the shop")
        families = (*(one.name for one in shop.families), *START_VALUES)
        self._known("defaults.family", [shop.defaults.family], families, "ink family of the shop")
        for number, press in enumerate(shop.presses, start=1):
            self._known(f"press.{number}.families", press.families, families, "ink family of the shop")
        carriers = (COLLECTED, *(one.name for one in shop.carriers))
        self._known("defaults.carrier", [shop.defaults.carrier], carriers, "carrier of the shop")

    def crews(self) -> None:
        """Every role a crew asks for is somebody's, and as many have it as are asked for at once."""
        shop = self._shop
        if not shop.people or self._in_doubt & {"person", "roles"}:
            return
        asked: list[tuple[str, Crew]] = []
        for number, press in enumerate(shop.presses, start=1):
            asked.append((f"press.{number}.set_up_crew", press.set_up_crew))
            asked.append((f"press.{number}.run_crew", press.run_crew))
        asked += self._off_press()
        roles = sorted({role for one in shop.people for role in one.roles})
        for setting, crew in asked:
            for role, _ in crew:
                if role not in roles:
                    near = nearest(role, roles)
                    hint = f"did you mean {near}?" if near else f"give somebody the role, or {one_of(roles)}"
                    self._add(setting, "nobody_can", f"nobody has the role {quoted(role)}", hint)

    def _off_press(self) -> list[tuple[str, Crew]]:
        """Crews away from the presses, by their setting."""
        shop = self._shop
        room = [("screen_room.crew", shop.screen_room.crew)] if shop.screen_room else []
        stations = [(f"stations.{number}.crew", one.crew) for number, one in enumerate(shop.stations, start=1)]
        return [*room, ("staging.crew", shop.stage_crew), ("finishing.crew", shop.finish_crew), *stations]

    def leads(self) -> None:
        """Where a lead watches several presses: one lead a press, and all who lead and do other work lead at the same
        presses. Only then can what is free be counted at every minute (see `domain.leads.post_parts`).
        """
        shop = self._shop
        if shop.lead_covers == 1 or not shop.people or self._in_doubt & {"press", "person", "roles"}:
            return
        crews = [
            (f"press.{number}.{name}", press.press_id, crew)
            for number, press in enumerate(shop.presses, start=1)
            for name, crew in (("set_up_crew", press.set_up_crew), ("run_crew", press.run_crew))
        ]
        for setting, _, crew in crews:
            count = dict(crew).get(LEAD, 0)
            if count > 1:
                message = f"asks for {count} leads, where one lead watches {shop.lead_covers} presses"
                self._add(setting, "too_many_leads", message, "write lead 1")
        led = {key_of(press_id) for _, press_id, crew in crews if LEAD in dict(crew)}
        off = {role for _, crew in self._off_press() for role, _ in crew}
        asked = {role for _, _, crew in crews for role, _ in crew} - {LEAD} | off
        both = [
            (number, one, {key_of(name) for name in one.press_ids or [press.press_id for press in shop.presses]} & led)
            for number, one in enumerate(shop.people, start=1)
            if LEAD in one.roles and asked & set(one.roles)
        ]
        for number, one, presses in both[1:]:
            _, first, others = both[0]
            if presses != others:
                message = (
                    f"{one.person_id} and {first.person_id} lead and do other work, and do not lead at the same presses"
                )
                hint = (
                    f"name the same presses for both, give one of them the role {LEAD} alone, or write lead_covers = 1"
                )
                self._add(f"person.{number}.presses", "leads_differ", message, hint)

    def now_on(self) -> None:
        """A press holds no more inks than it has heads."""
        for number, press in enumerate(self._shop.presses, start=1):
            if press.now_on and len(press.now_on.inks) > press.heads:
                message = f"{len(press.now_on.inks)} inks stand on {press.heads} heads"
                self._add(
                    f"press.{number}.now_on.inks", "too_many_inks", message, "write what stands on it, in print order"
                )

    def overtime(self) -> None:
        """Overtime lies outside normal hours and other offers for the same presses, and within the days planned."""
        offers = self._shop.overtime
        first = self._shop.plan_from.date()
        last = first + timedelta(days=self._shop.days_ahead - 1)
        for number, offer in enumerate(offers, start=1):
            setting = f"overtime.{number}"
            if self._now is not None and offer.day != UNREAD_DAY and not first <= offer.day <= last:
                message = (
                    f"{offer.day.isoformat()} is not among the days planned, {first.isoformat()} to {last.isoformat()}"
                )
                place = Place(file=self._file, column=f"{setting}.day")
                self._faults.warn(place, "not_planned", message, "correct the day, or take the offer out")
            hours = self._in_hours(offer)
            if hours:
                hint = "write only the time before or after normal hours"
                self._add(f"{setting}.from", "in_normal_hours", f"overlaps normal hours, {hours}", hint)
            for before, other in enumerate(offers[: number - 1], start=1):
                if _share(offer, other) and _overlap(_span(offer), _span(other)):
                    message = f"overlaps overtime.{before}, {_shown(_span(other)[0])}-{_shown(_span(other)[1])}"
                    self._add(f"{setting}.from", "overlaps_offer", message, "let one offer start where the other ends")

    def _in_hours(self, offer: OvertimeOffer) -> str:
        """The normal hours an offer overlaps, as text; of the presses it names, else of the shop."""
        if any(_is_whole(one, offer.day) for one in self._shop.closures if not one.what):
            return ""
        named = [
            one for one in self._shop.presses if key_of(one.press_id) in {key_of(name) for name in offer.press_ids}
        ]
        tables = [self._shop.hours if one.hours is None else one.hours for one in named] or [self._shop.hours]
        for hours in tables:
            for start, end in _open_on(hours, offer.day):
                if _overlap((offer.from_min, offer.to_min), (start, end)):
                    return f"{_shown(start)}-{_shown(end)}"
        return ""


def _open_on(hours: Hours, day: date) -> list[Span]:
    """Open pieces of a day, breaks cut out, in minutes of that day."""
    found: list[Span] = []
    for one in hours:
        if day.weekday() in one.weekdays:
            edges = [one.from_min, *(edge for gap in one.breaks for edge in gap), one.to_min]
            found += list(zip(edges[::2], edges[1::2], strict=True))
    return found


def _span(offer: OvertimeOffer) -> Span:
    """An offer in minutes counted from one day for all offers."""
    base = offer.day.toordinal() * DAY_MIN
    return base + offer.from_min, base + offer.to_min


def _overlap(one: Span, other: Span) -> bool:
    return one[0] < other[1] and other[0] < one[1]


def _share(one: OvertimeOffer, other: OvertimeOffer) -> bool:
    """True if both open some press."""
    mine, theirs = {key_of(name) for name in one.press_ids}, {key_of(name) for name in other.press_ids}
    return not mine or not theirs or bool(mine & theirs)


def _is_whole(closure: Closure, day: date) -> bool:
    """True if a closure covers the whole of a day."""
    start = datetime.combine(day, time(), tzinfo=closure.from_at.tzinfo)
    return closure.from_at <= start and closure.to_at >= start + timedelta(days=1)


def _shown(minute: int) -> str:
    return f"{minute % DAY_MIN // 60:02d}:{minute % 60:02d}"
