"""The commands `book ...`: the shop's book started, filled, handed out, looked at, backed up and brought back."""

from __future__ import annotations

import getpass
import json
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import Annotated, Any

import typer

from scheduler import shop_book, terminal
from scheduler.domain.plan import Plan
from scheduler.errors import Problem

BROKEN = 1
MOST = 2**31 - 1
"""No plan has a higher number."""

LAST_CHANGES = 5
"""Changes of the week that `status` tells."""

book_app = typer.Typer(
    help="The shop's book: the week, its plans and what really happened, kept.",
    no_args_is_help=True,
    rich_markup_mode=None,
)

Address = Annotated[
    str, typer.Argument(metavar="BOOK", help="The book's file, or a server's address as postgresql+psycopg://...")
]
Who = Annotated[str, typer.Option(metavar="NAME", help="Who does it; else whoever is signed in to this computer.")]


def add_to(app: typer.Typer) -> None:
    """Make the commands of this module known to the program."""
    app.add_typer(book_app, name="book")


@book_app.command()
def new(book: Address) -> None:
    """Start an empty book."""
    name = shop_book.new_book(book, _now())
    terminal.say(terminal.out(), f"Started {name}. Bring a week in with: pressweek book bring {name} WEEK", hang=2)


@book_app.command()
def bring(
    book: Address,
    week: Annotated[Path, typer.Argument(help="A week's folder or one .xlsx file.")],
    who: Who = "",
    instead: Annotated[
        bool, typer.Option("--instead", help="Replace what stands in the book, wherever these files come from.")
    ] = False,
) -> None:
    """Bring a week into the book, all of it or nothing.

    Files that were handed out before the book's week was changed are refused, with who changed what.
    """
    out = terminal.out()
    brought = shop_book.bring(book, week, who=name_of(who), now=_now(), is_instead=instead)
    if brought.changes:
        terminal.say(out, f"The week is now version {brought.version}:")
        for change in brought.changes:
            terminal.say(out, f"- {change}", hang=2)
    else:
        terminal.say(out, f"The week is version {brought.version}.")
    _tell_odd(brought.warnings)


@book_app.command(name="hand-out")
def hand_out(
    book: Address, place: Annotated[Path, typer.Argument(help="A folder, or a file that ends in .xlsx.")]
) -> None:
    """Write the book's week as a folder or a workbook, as it was typed; beside it, what was noted since."""
    written = shop_book.hand_out(book, place)
    names = ", ".join(path.name for path in written)
    terminal.say(terminal.out(), f"Written to {place}: {names}.", hang=2)


@book_app.command()
def status(
    book: Address, as_json: Annotated[bool, typer.Option("--json", help="Print one JSON object instead.")] = False
) -> None:
    """How the book stands: what is in it, who changed what last, whether its file is sound."""
    found = shop_book.status(book)
    if as_json:
        print(json.dumps(shop_book.status_figures(found)))
    else:
        _tell_status(found)
    if found.fault:
        raise typer.Exit(BROKEN)


@book_app.command()
def backup(book: Address, file: Annotated[Path, typer.Argument(metavar="FILE", help="A file not there yet.")]) -> None:
    """Copy the whole book of one moment into a file, while others work on."""
    shop_book.back_up(book, file, _now())
    terminal.say(terminal.out(), f"Written: {file}")


@book_app.command()
def restore(book: Address, file: Annotated[Path, typer.Argument(metavar="FILE", help="A backup.")]) -> None:
    """Make the book say again what a backup says; others may go on reading."""
    shop_book.restore(book, file)
    terminal.say(terminal.out(), f"The book says again what {file.name} says.")


@book_app.command()
def announce(
    book: Address,
    plan: Annotated[
        int | None,
        typer.Option(metavar="NUMBER", min=1, max=MOST, help="Which plan; else the one made last."),
    ] = None,
    who: Who = "",
) -> None:
    """Tell the shop a plan: from now on it is the one that counts.

    Its dates stand beside those told before. A plan made before another was announced is refused.
    """
    done = shop_book.announce(book, plan, who=name_of(who), now=_now())
    terminal.say(terminal.out(), f"Plan {done.entry.number} is announced.")
    if done.entry.after is not None:
        terminal.sections(terminal.out(), [shop_book.dates_section(done.dates)])


@book_app.command()
def note(
    book: Address,
    what: Annotated[str, typer.Argument(metavar="WHAT", help=f"One of: {', '.join(shop_book.WORDS)}.")],
    about: Annotated[
        list[str] | None, typer.Argument(metavar="[ABOUT]", help="The run, screen set, frames, dryer, order or number.")
    ] = None,
    pieces: Annotated[int | None, typer.Option(help="Good pieces so far; spoiled ones more; frames.")] = None,
    press: Annotated[str, typer.Option(help="The press, where it is another than planned.")] = "",
    state: Annotated[str, typer.Option(help="How screens, frames or a dryer are now.")] = "",
    because: Annotated[str, typer.Option(metavar="WHY", help="Why it stands or spoils.")] = "",
    at: Annotated[str, typer.Option(metavar="TIME", help="When, as 10:05 or 2026-03-04 10:05; else now.")] = "",
    who: Who = "",
) -> None:
    """Note what happened: start and done of a run are enough to plan from.

    For example: note shop.book start 4102 front dark. The word undo takes the last note back, or the one whose number
    is given.
    """
    told = shop_book.Note(
        word=what,
        about=" ".join(about or ()),
        press=press,
        pieces=pieces,
        state=state,
        reason=because,
        at=at,
        who=name_of(who),
    )
    event = shop_book.note(book, told, now=_now())
    terminal.say(terminal.out(), f"Number {event.number}: {shop_book.event_text(event)}, {event.at:%Y-%m-%d %H:%M}.")


@book_app.command()
def verify(
    book: Address,
    plan: Annotated[
        int | None, typer.Option(metavar="NUMBER", min=1, max=MOST, help="Which plan; else the one made last.")
    ] = None,
) -> None:
    """Check a kept plan against every rule, by the figures it was made with."""
    out = terminal.out()
    found = shop_book.verified(book, plan)
    for one in found.broken:
        terminal.say(out, f"{one.rule}: {one.message}", hang=2)
    for line in found.learnt_lines:
        terminal.say(out, f"- {line}", hang=2)
    if found.broken:
        terminal.say(out, f"Plan {found.number} breaks the rules in {len(found.broken)} places.")
        raise typer.Exit(BROKEN)
    terminal.say(out, f"Plan {found.number} keeps all rules.")


@book_app.command()
def history(book: Address) -> None:
    """Who changed, announced and noted what."""
    for one in shop_book.history(book):
        who = one.who or "somebody"
        terminal.say(terminal.out(), f"{one.at:%Y-%m-%d %H:%M}  {who}: {one.what}", hang=18)


@book_app.command()
def learnt(book: Address) -> None:
    """What designs have come to: set-up, rate, spoiled pieces, the last times; and whether odds told were true."""
    out = terminal.out()
    found = shop_book.designs_learnt(book)
    for one in found:
        told = [f"set-up {one.set_up_min} min" if one.set_up_min is not None else "", f"{one.pcs_h} an hour on tees"]
        told += [f"{one.spoiled_share:.1%} spoiled"]
        terminal.say(out, f"{one.design_id}: {', '.join(text for text in told if text)}", hang=2)
        for line in shop_book.last_times(one):
            terminal.say(out, f"  {line}", hang=4)
    if not found:
        terminal.say(out, "No run was noted from its start to its end yet, so nothing is learnt.", hang=2)
    terminal.say(out, shop_book.days_told(book).sentence, hang=2)


@book_app.command()
def screens(
    book: Address,
    now: Annotated[str, typer.Option(metavar="TIME", help="What time it is; else by the clock.")] = "",
) -> None:
    """How screens and frames stand now: on press, burned, held, to reclaim; coated, clean, broken."""
    out = terminal.out()
    found = shop_book.screens_now(book, now)
    terminal.say(out, f"Screens and frames, {found.at:%Y-%m-%d %H:%M}.")
    terminal.title(out, "Screen sets with their image")
    rows = [[one.set_id, str(one.screens), f"{one.state} {one.press}".rstrip()] for one in found.sets]
    terminal.table(out, ["screen set", "screens", "now"], rows)
    terminal.title(out, "Frames")
    counts = [
        [one.size, str(one.mesh), *(str(n) for n in (one.count, one.coated, one.with_image, one.clean, one.broken))]
        for one in found.frames
    ]
    terminal.table(out, ["size", "mesh", "all", "coated", "with an image", "clean", "broken since"], counts)


class FromBook:
    """A plan made from the book: what is asked, the plan kept, and the dates it tells beside those told before."""

    def __init__(self, book: str, now: str, *, is_stated: bool = False) -> None:
        """now: the shop's time as typed, "" for what the clock says; is_stated: planned by the stated figures.

        Raises InputError where nothing can be planned.
        """
        self.book = book
        self.asked = shop_book.question(book, now, is_stated=is_stated)
        self._number = 0
        self._dates: tuple[shop_book.ToldDate, ...] = ()

    def keep(self, plan: Plan) -> dict[str, Any]:
        """The plan is in the book; what other programs are told of that."""
        asked = self.asked
        self._number = shop_book.keep_plan(self.book, asked, plan, who=name_of(""), now=_now())
        if asked.told is not None and asked.told_week is not None:
            self._dates = shop_book.told_before(asked.told, asked.told_week, asked.inputs, asked.workload.week, plan)
        return {
            "plan_number": self._number,
            "told_dates": shop_book.dates_figures(self._dates),
            "learnt": list(asked.learnt_lines),
            "to_pack": shop_book.to_pack_figures(asked.stands.to_pack if asked.stands is not None else ()),
        }

    def tell(self) -> None:
        """What people are told of that."""
        if self.asked.told is not None:
            terminal.sections(terminal.out(), [shop_book.dates_section(self._dates)])
        if self.asked.stands is not None:
            section = shop_book.to_pack_section(self.asked.stands.to_pack, self.asked.stands.now)
            terminal.sections(terminal.out(), [section] if section is not None else [])
        told = self.asked.learnt_lines
        if told:
            terminal.title(terminal.out(), "Planned by what your own record says; by the stated figures: --stated")
        for line in told:
            terminal.say(terminal.out(), f"- {line}", hang=2)
        terminal.say(terminal.out())
        place = self.book if "://" not in self.book else "BOOK"  # an address may hold a password
        how = f"To tell the shop: pressweek book announce {place}"
        terminal.say(terminal.out(), f"Kept as plan {self._number}. {how}", hang=2)


def name_of(who: str) -> str:
    """Who is meant: as typed, else whoever is signed in."""
    if who:
        return who
    try:
        return getpass.getuser()
    except (OSError, KeyError):
        return ""


def _now() -> datetime:
    return datetime.now().astimezone().replace(microsecond=0)


def _tell_odd(warnings: Sequence[Problem]) -> None:
    if warnings:
        terminal.title(terminal.out(), "Odd, but no fault")
    for problem in warnings:
        terminal.say(terminal.out(), str(problem))


def _tell_status(found: shop_book.Status) -> None:
    out = terminal.out()
    if not found.versions:
        terminal.say(out, f"{found.name}: no week yet. Bring one with: pressweek book bring {found.name} WEEK", hang=2)
    else:
        what = (
            f"{found.orders} orders, {found.lots} lots of garments, {found.imprints} imprints, {found.designs} designs"
        )
        terminal.say(out, f"{found.name}: {found.shop}, {what}.", hang=2)
        _tell_plans(found)
        terminal.title(out, "Who changed the week")
        for version in found.versions[: -LAST_CHANGES - 1 : -1]:
            told = "; ".join(version.changes) or version.why
            who = version.who or "somebody"
            terminal.say(out, f"- version {version.number}, {version.at:%Y-%m-%d %H:%M}, {who}: {told}", hang=2)
        terminal.say(out)
    terminal.say(out, f"The book is damaged: {found.fault}." if found.fault else "The book is sound.")


def _tell_plans(found: shop_book.Status) -> None:
    stands = found.announced
    if stands is None or stands.announced_at is None:
        told = "No plan is announced."
    else:
        who = stands.announced_by or "somebody"
        told = f"Plan {stands.number} was announced by {who}, {stands.announced_at:%Y-%m-%d %H:%M}."
    made = f"{found.plans} {'plan' if found.plans == 1 else 'plans'} made, {found.events} noted"
    terminal.say(terminal.out(), f"{told} {made}.", hang=2)
