"""One cell of text -> a value, or a CellError that says what to write: numbers, money, names, inks, presses.

Dates and clock times are in `moments`, quantities with units in `units`. Every function takes the text of a cell that
is not empty. Forgiving where one reading is possible (case, blanks, "1,200"), strict where two are.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from scheduler.domain.orders import Ink
from scheduler.domain.week import Crew
from scheduler.inputs.faults import CellError, key_of, nearest, one_of, quoted

LONGEST_NAME = 120
MOST_INKS = 24
MOST_HITS = 4

_YES = {"yes", "y", "true", "x", "1", "on"}
_NO = {"no", "n", "false", "0", "off", "-"}
_HITS = re.compile(r"(?P<name>.*\S)\s*[x×*]\s*(?P<hits>[0-9]{1,2})", re.IGNORECASE)
_COUNT = re.compile(r"[0-9]{1,2}\s*(?:c|cp|cols?|colou?rs?|inks?|spots?|screens?)?", re.IGNORECASE)
_PLAIN = re.compile(r"[0-9]{1,12}(?:\.[0-9]{1,6})?")
_GROUPED = re.compile(
    r"(?P<whole>[0-9]{1,3}(?P<mark>[,. '’])[0-9]{3}(?:(?P=mark)[0-9]{3}){0,3})(?:(?P<dot>[.,])(?P<rest>[0-9]{1,6}))?"
)
_DECIMAL_COMMA = re.compile(r"[0-9]{1,12},[0-9]{1,6}")
_MONEY = re.compile(r"(?P<before>[€$£]|[A-Za-z]{3})?\s*(?P<amount>[0-9][0-9.,'’ ]*?)\s*(?P<after>[€$£]|[A-Za-z]{3})?")


@dataclass(frozen=True, slots=True, kw_only=True)
class PressWish:
    """What an order says of presses: allowed (empty = any), preferred, never. As typed."""

    allowed: tuple[str, ...] = ()
    preferred: tuple[str, ...] = ()
    never: tuple[str, ...] = ()


def name(text: str) -> str:
    """A name, blanks tidied."""
    plain = " ".join(text.split())
    if len(plain) > LONGEST_NAME:
        raise CellError("too_long", f"{quoted(plain)} is too long", f"write at most {LONGEST_NAME} letters")
    return plain


def note(text: str) -> str:
    """Free words, as long as they like, on one line."""
    return " ".join(text.split())


def names(text: str) -> tuple[str, ...]:
    """Names with commas between: "auto-1, auto-2". Named twice counts once; "none" is none."""
    if key_of(text) in ("none", "-"):
        return ()
    found: dict[str, str] = {}
    for one in re.split(r"[,;]", text):
        if one.strip():
            found.setdefault(key_of(one), name(one))
    return tuple(found.values())


def word(text: str) -> str:
    """A name in small letters: roles, garment kinds."""
    return name(text).casefold()


def words(text: str) -> tuple[str, ...]:
    """Names in small letters with commas between."""
    return tuple(word(one) for one in names(text))


def yes_no(text: str) -> bool:
    """Yes or no."""
    if key_of(text) in _YES:
        return True
    if key_of(text) in _NO:
        return False
    raise CellError("not_yes_or_no", f"{quoted(text)} is neither yes nor no", "write yes or no")


def choice(allowed: Mapping[str, str], what: str) -> Callable[[str], str]:
    """Reads one of several words. allowed: spelling (small letters) -> the word it means."""
    shown = tuple(dict.fromkeys(allowed.values()))

    def read(text: str) -> str:
        found = allowed.get(key_of(text))
        if found is None:
            raise CellError("not_a_choice", f"{quoted(text)} is no {what}", one_of(shown))
        return found

    return read


def decimal(text: str, *, has_thousandths: bool) -> Decimal | None:
    """A number without sign; None if it is none. Thousands may be grouped, decimals follow a dot or a comma.

    has_thousandths: three decimals make sense here (2.125 in), so "1,200" could be read two ways; where they do not
    (pieces, money) "1,200" is twelve hundred and "1.200" could be read two ways.
    """
    plain = " ".join(text.split())
    grouped = _GROUPED.fullmatch(plain)
    if grouped:
        mark, dot, rest = grouped["mark"], grouped["dot"], grouped["rest"] or ""
        if dot == mark:
            return None
        is_single = not dot and grouped["whole"].count(mark) == 1
        if is_single and mark in ",." and (plain.startswith("0") or (mark == "." and has_thousandths)):
            return Decimal(plain.replace(",", "."))
        ungrouped = grouped["whole"].replace(mark, "")
        if is_single and (mark == "." or (mark == "," and has_thousandths)):
            hint = f"write {ungrouped} or {plain.replace(',', '.')}" if has_thousandths else f"write {ungrouped}"
            raise CellError("two_ways", f"{quoted(plain)} can be read two ways", hint)
        return Decimal(ungrouped + (f".{rest}" if rest else ""))
    if _PLAIN.fullmatch(plain):
        return Decimal(plain)
    return Decimal(plain.replace(",", ".")) if _DECIMAL_COMMA.fullmatch(plain) else None


def whole(*, least: int = 0, most: int = 1_000_000, example: str = "120") -> Callable[[str], int]:
    """Reads a whole number within limits."""

    def read(text: str) -> int:
        plain = text.strip()
        is_negative = plain.startswith(("-", "−"))
        found = decimal(plain[1:] if is_negative or plain.startswith("+") else plain, has_thousandths=False)
        if found is None or found != found.to_integral_value():
            raise CellError("not_a_number", f"{quoted(text)} is not a whole number", f"write it as {example}")
        number = -int(found) if is_negative else int(found)
        if number < least:
            raise CellError("too_small", f"{quoted(text)} is less than {least}", f"write {least} or more")
        if number > most:
            raise CellError("too_big", f"{quoted(text)} is more than {most:,}", f"write {most} or less")
        return number

    return read


def number(*, least: float = 0.0, most: float = 100_000.0, example: str = "2.5") -> Callable[[str], float]:
    """Reads a number within limits, decimals allowed, a percent sign too."""

    def read(text: str) -> float:
        found = decimal(text.strip().removesuffix("%"), has_thousandths=True)
        if found is None:
            raise CellError("not_a_number", f"{quoted(text)} is not a number", f"write it as {example}")
        if not least <= found <= most:
            message = f"{quoted(text)} is not between {least:g} and {most:g}"
            raise CellError("out_of_range", message, f"write it as {example}")
        return float(found)

    return read


def money(currency: str = "") -> Callable[[str], int]:
    """Reads an amount in the shop's money; integer cents."""

    def read(text: str) -> int:
        match = _MONEY.fullmatch(" ".join(text.split()))
        found = decimal(match["amount"], has_thousandths=False) if match else None
        if match is None or found is None or (match["before"] and match["after"]):
            raise CellError("not_money", f"{quoted(text)} is not an amount of money", "write it as 150 or 12.50")
        code = (match["before"] or match["after"] or "").upper()
        if code.isalpha() and code != currency.upper():
            raise CellError("other_money", f"{quoted(text)} is not in the shop's money", "write the amount alone")
        cents = found * 100
        if cents != cents.to_integral_value():
            raise CellError("too_fine", f"{quoted(text)} has parts of a cent", f"write {found:.2f}")
        if cents > 1_000_000_000:
            raise CellError("too_big", f"{quoted(text)} is more than 10,000,000", "write it as 150 or 12.50")
        return int(cents)

    return read


def crew(text: str) -> Crew:
    """People needed at once: "print 1, catch 1"; a role alone is one person, "none" is nobody."""
    found: dict[str, int] = {}
    for part in [] if key_of(text) in ("none", "-") else re.split(r"[,;]", text):
        if not part.strip():
            continue
        match = re.fullmatch(
            r"(?:(?P<first>[0-9]{1,2})\s+)?(?P<role>.*?[^\s0-9])(?:\s+(?P<last>[0-9]{1,2}))?", part.strip()
        )
        if match is None or (match["first"] and match["last"]):
            hint = "write roles and how many, as print 1, catch 1"
            raise CellError("not_a_crew", f"{quoted(part)} is no role with a number of people", hint)
        role, count = word(match["role"]), int(match["first"] or match["last"] or 1)
        if role in found:
            raise CellError("twice", f"role {quoted(role)} stands here twice", f"write {role} once, with the number")
        if count:
            found[role] = count
    return tuple(found.items())


def inks(text: str) -> tuple[Ink, ...]:
    """Inks in print order: "white, red", "white x2" for two hits, "white base, red" for an underbase."""
    found = tuple(_ink(part) for part in re.split(r"[,;+/]", text) if part.strip())
    if not found:
        raise CellError("no_inks", f"{quoted(text)} names no ink", "write them in print order, as white, red")
    if len(found) > MOST_INKS:
        raise CellError("too_many_inks", f"{len(found)} inks are more than any press has", f"write at most {MOST_INKS}")
    late_bases = [ink.name for ink in found[1:] if is_base_name(ink.name)]
    if late_bases:
        message = f"{quoted(late_bases[0])} does not come first"
        raise CellError("base_not_first", message, "write the underbase first, as white base, red")
    if len(found) == 1 and is_base_name(found[0].name):
        raise CellError("only_a_base", f"{quoted(text)} is an underbase alone", "write what is printed on it as well")
    return found


def is_base_name(text: str) -> bool:
    """True if these words name an underbase: "white base", "underbase", "base"."""
    plain = key_of(text)
    return plain in ("base", "underbase", "base white", "underbase white") or plain.endswith((" base", " underbase"))


def _ink(text: str) -> Ink:
    plain = name(text)
    if _COUNT.fullmatch(plain):
        message = f"{quoted(text.strip())} counts colours and names no ink"
        raise CellError("count_of_inks", message, "write them in print order, as white, red, or ? if nobody knows yet")
    match = _HITS.fullmatch(plain)
    if match is None:
        return Ink(name=plain)
    hits = int(match["hits"])
    if not 1 <= hits <= MOST_HITS:
        raise CellError("hits", f"{quoted(plain)} asks for {hits} hits", f"write 1 to {MOST_HITS} hits, as white x2")
    return Ink(name=match["name"], hits=hits)


def split(text: str) -> tuple[int, ...]:
    """Pieces of each run of a print location: "600+400"."""
    parts = text.split("+")
    if len(parts) == 1:
        hint = "write the pieces of each run, as 600+400, or leave it empty"
        raise CellError("one_run", f"{quoted(text)} makes one run only", hint)
    read = whole(least=1, example="600+400")
    return tuple(read(part) for part in parts)


def press_wish(text: str) -> PressWish:
    """Presses: "auto-1, manual" allowed, "auto-1!" preferred, "not manual" never.

    Preferred ones alone allow every other press too; beside allowed ones they are allowed as well.
    """
    welcome: list[str] = []
    preferred: list[str] = []
    never: list[str] = []
    for part in names(text):
        if key_of(part).startswith("not "):
            never.append(part[4:].strip())
            continue
        welcome.append(part.rstrip("! "))
        if part.endswith("!"):
            preferred.append(welcome[-1])
    if "" in (*welcome, *never):
        raise CellError("no_press", f"{quoted(text)} leaves a press without a name", "write it as auto-1!, not manual")
    both = [one for one in never if key_of(one) in {key_of(other) for other in welcome}]
    if both:
        raise CellError("both_ways", f"press {quoted(both[0])} is allowed and refused", "write it once")
    is_only_liking = len(welcome) == len(preferred)
    return PressWish(allowed=() if is_only_liking else tuple(welcome), preferred=tuple(preferred), never=tuple(never))


def meshes(text: str) -> tuple[int, ...]:
    """Threads per inch: one number for all screens, or one per ink in print order."""
    read = whole(least=10, most=600, example="156")
    return tuple(read(part) for part in re.split(r"[,;/]", text) if part.strip())


def known_name(known: Mapping[str, str], what: str) -> Callable[[str], str]:
    """Reads a name that must be known. known: key (see `key_of`) -> its right spelling. what: "press of the shop"."""

    def read(text: str) -> str:
        found = known.get(key_of(text))
        if found is None:
            near = nearest(text, known.values())
            hint = f"did you mean {near}?" if near else one_of(tuple(known.values()))
            raise CellError(f"no_such_{what.split()[0].strip(',')}", f"{quoted(text)} is no {what}", hint)
        return found

    return read
