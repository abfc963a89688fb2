"""What the cells of a shop's own sheet say, in the words of ours: "144 pcs" is 144, "received" is in, "3/6" a date.

Every function returns the text to write, or None where it cannot tell; nothing is guessed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from scheduler.inputs import moments
from scheduler.inputs.faults import CellError, key_of
from scheduler.inputs.garment_words import kind_of, shade_of

IN_WORDS = {
    "in", "here", "received", "recd", "rec'd", "arrived", "in stock", "stock", "yes", "y", "x", "✓", "true", "ok",
    "all in",
    "complete", "checked in", "delivered", "have", "done",
}  # fmt: skip
NOT_IN_WORDS = {
    "no", "n", "not in", "ordered", "on order", "waiting", "pending", "backordered", "back ordered", "backorder", "b/o",
    "false", "partial", "to order", "not ordered", "need", "tbc", "coming", "not yet",
}  # fmt: skip
OK_WORDS = {
    "ok", "okay", "approved", "yes", "y", "x", "✓", "true", "signed", "signed off", "final", "repeat", "reorder",
    "re-order",
    "ready", "done", "proof approved", "complete", "in", "on file", "go", "good", "paid",
    "received",
}  # fmt: skip
NOT_OK_WORDS = {
    "no", "n", "pending", "waiting", "proof sent", "sent", "needs approval", "to approve", "not approved", "revise",
    "revision", "changes", "in progress", "draft", "false", "tbc", "awaiting approval", "not yet", "wip",
    "unpaid", "not paid", "invoiced", "asked",
}  # fmt: skip
FIRM_WORDS = {
    **dict.fromkeys(
        ("firm", "rush", "hot", "urgent", "must", "high", "yes", "y", "x", "✓", "true", "event", "hard"), "firm"
    ),
    **dict.fromkeys(("normal", "standard", "std", "medium", "no", "n", "false", "regular"), "normal"),
    **dict.fromkeys(("easy", "low", "flexible", "whenever", "soft"), "easy"),
}  # fmt: skip
NO_INKS = {
    "none",
    "n/a",
    "na",
    "-",
    "tbd",
    "tba",
    "tbc",
    "same",
    "same as last",
    "as before",
    "repeat",
    "see art",
    "pms",
}
"""What stands under inks and names none."""

COLLECTED_WORDS = {
    "collected", "collect", "collects", "collection", "pick up", "pickup", "pick-up", "will call", "customer pickup",
    "customer pick up", "in store", "local pickup", "fetch",
}  # fmt: skip
DONE_WORDS = {
    "done", "complete", "completed", "finished", "printed", "shipped", "delivered", "picked up", "collected",
    "invoiced",
    "closed", "cancelled", "canceled", "dead", "archived", "void", "out",
}  # fmt: skip
COLOURS = (
    "white|black|red|navy|blue|royal|green|yellow|gold|orange|purple|pink|grey|gray|silver|brown|cream|teal|maroon|tan|"
    "natural|sky|lime|mint|charcoal|turquoise|magenta|cyan|pms|pantone|burgundy|forest|kelly|athletic|cardinal|aqua|lilac|"
    "beige|sand|ash|heather|indigo|coral|rust|olive|mustard|peach|ivory"
)
PLACES = (
    "front|back|chest|sleeve|left|right|neck|nape|hood|leg|pocket|yoke|tag|hip|side|belly|shoulder|collar|lc|rc|ff|fb|full|"
    "cuff|hem|lapel|label|bottom|top"
)

_COUNT = re.compile(
    r"[0-9]{1,2}\s*(?:c|cp|cols?|colou?rs?|inks?|spots?|screens?)?(?:\s*[/+]\s*[0-9]{1,2}\s*(?:c|cols?|colou?rs?|inks?)?)*",
    re.IGNORECASE,
)
_PIECES = re.compile(
    r"([0-9][0-9,.' ]*?)\s*(?:pcs?|pieces?|ea|each|units?|shirts?|tees?|garments?|hoodies?|bags?)?\.?", re.I
)
_CLOCK_BEHIND = re.compile(
    r"^(?P<day>.*?\S)[,\s]+(?:at\s+|@\s*|by\s+)?(?P<clock>[0-9]{1,2}(?::[0-9]{2})?\s*[ap]\.?m\.?|[0-9]{1,2}:[0-9]{2}|noon)$",
    re.I,
)
_ORDINAL = re.compile(r"\b([0-9]{1,2})(?:st|nd|rd|th)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Dates:
    """How dates are meant. order: "day first", "month first" or "" where it does not matter or is not known yet."""

    zone: ZoneInfo
    today: date
    order: str = ""

    def read(self, text: str) -> date | datetime | None:
        """The day or moment; None if it is none. Raises CellError ("two_ways") where day and month cannot be told."""
        plain = moments.without_weekday(text)
        day_text, clock = plain, ""
        behind = _CLOCK_BEHIND.fullmatch(plain)
        if behind:
            day_text, clock = behind["day"].rstrip(","), behind["clock"]
        on = self._day(_ORDINAL.sub(r"\1", moments.without_weekday(day_text)))
        if on is None:
            return None
        if not clock:
            return on
        typed = "12:00" if key_of(clock) == "noon" else clock
        try:
            return moments.moment(self.zone)(f"{on.isoformat()} {typed}")
        except CellError:
            return None

    def _day(self, text: str) -> date | None:
        try:
            return moments.day(self.order, self.today)(text)
        except CellError as fault:
            if fault.code == "two_ways":
                raise
        return None


def has_year(text: str) -> bool:
    """True if a date was typed with its year."""
    plain = moments.without_weekday(text)
    behind = _CLOCK_BEHIND.fullmatch(plain)
    return not moments.lacks_year(behind["day"] if behind else plain)


def written(on: date | datetime) -> str:
    """A day or moment as the orders sheet has it."""
    return f"{on:%Y-%m-%d %H:%M}" if isinstance(on, datetime) else on.isoformat()


def due(text: str, dates: Dates) -> str | None:
    """A day or moment."""
    found = dates.read(text)
    return None if found is None else written(found)


def pieces(text: str) -> str | None:
    """A number of garments above none."""
    match = _PIECES.fullmatch(" ".join(text.split()))
    plain = re.sub(r"[,.' ](?=[0-9]{3}(?![0-9]))", "", match[1].strip()) if match else ""
    plain = plain.removesuffix(".0").removesuffix(".00")
    return plain if plain.isdecimal() and int(plain) > 0 else None


def inks(text: str) -> str | None:
    """Inks with commas between; None for a mere number of colours."""
    plain = " ".join(re.sub(r"\s*\n\s*", ", ", text.strip(" ,\n")).split())
    plain = re.sub(r"^[0-9]{1,2}\s*(?:c|cols?|colou?rs?|inks?)?\s*[:=-]\s*", "", plain, flags=re.IGNORECASE)
    plain = re.sub(r"\s*(?:&|\band\b)\s*", ", ", plain, flags=re.IGNORECASE)
    plain = re.sub(r"(?:,\s*){2,}", ", ", plain).strip(" ,")
    return None if not plain or key_of(plain) in NO_INKS or _COUNT.fullmatch(plain) else plain


def dates_within(text: str) -> list[str]:
    """What of a cell may be a date: the whole of it, and every piece that looks like one."""
    return [text, *re.findall(r"[0-9]{1,4}[/.-][0-9]{1,2}(?:[/.-][0-9]{1,4})?", text)]


def arrival(text: str, there: str, dates: Dates) -> str | None:
    """Whether something is there: "in" or "ok", the day on which it comes, or "?" where the cell says not yet."""
    plain = key_of(text).strip(" .!")
    yes, no = (IN_WORDS, NOT_IN_WORDS) if there == "in" else (OK_WORDS, NOT_OK_WORDS)
    if plain in yes:
        return there
    if plain in no:
        return "?"
    for part in dates_within(text):
        on = dates.read(part)
        if on is not None:
            return written(on)
    first = re.match(r"[a-z' ]+", plain)
    word = first[0].strip() if first else ""
    return there if word in yes else "?" if word in no else None


def shade(text: str) -> str | None:
    """Light or dark, by the word or by a colour."""
    plain = key_of(text)
    known = {"l": "light", "lt": "light", "lite": "light", "d": "dark", "dk": "dark"}
    return known.get(plain) or shade_of(plain)


def firm(text: str) -> str | None:
    """How much a late day hurts."""
    return FIRM_WORDS.get(key_of(text).strip(" .!*"))


def is_done(text: str, heading: str) -> bool:
    """True if a row's state says that nothing is left to print. heading: the column's own, as "Shipped"."""
    plain = key_of(text).strip(" .!")
    if plain in DONE_WORDS:
        return True
    is_about_it = key_of(heading).strip(" ?") in DONE_WORDS
    return is_about_it and bool(plain) and plain not in {"no", "n", "-", "0", "false", "not yet", "open", "partial"}


Fits = Callable[[str], bool]


def fits(dates: Dates) -> Mapping[str, Fits]:
    """What a cell under each heading looks like, for headings whose cells tell. An unclear date counts as one."""

    def is_date(text: str) -> bool:
        try:
            return dates.read(text) is not None
        except CellError:
            return True

    def is_arrival(there: str) -> Fits:
        def look(text: str) -> bool:
            try:
                return key_of(text) == "?" or arrival(text, there, dates) is not None
            except CellError:
                return True

        return look

    colours, places = re.compile(rf"\b(?:{COLOURS})\b", re.I), re.compile(rf"\b(?:{PLACES})\b", re.I)

    def is_inks(text: str) -> bool:
        return colours.search(text) is not None or _COUNT.fullmatch(text.strip()) is not None

    return {
        "due": is_date,
        "in_hands": is_date,
        "blanks": is_arrival("in"),
        "art": is_arrival("ok"),
        "deposit": is_arrival("ok"),
        "pieces": lambda text: pieces(text) is not None,
        "inks": is_inks,
        "garment_colour": lambda text: colours.search(text) is not None and kind_of(text) is None,
        "garment": lambda text: kind_of(text) is not None or shade_of(text) is not None or len(text) > 3,
        "location": lambda text: places.search(text) is not None,
        "shade": lambda text: shade(text) is not None,
        "firm": lambda text: firm(text) is not None,
    }
