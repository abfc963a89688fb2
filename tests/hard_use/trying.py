"""One spoiled thing at a time brought to the front doors: what comes back, and how long it took.

Only two answers are allowed: it is read, or it is refused with faults that say where they are and what to write.
"""

from __future__ import annotations

import io
import random
import signal
import time
import unicodedata
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from tempfile import mkdtemp
from typing import Any

import openpyxl

from scheduler import api
from scheduler.domain.orders import WeekInputs
from scheduler.domain.week import Week
from scheduler.errors import InputError, Problem
from scheduler.inputs.what_if_kinds import KINDS
from scheduler.review.rules import check
from scheduler.search.construction import first_plan
from scheduler.search.decoder import Decoded
from scheduler.what_if.applying import edited
from tests.hard_use.books import try_book
from tests.hard_use.mangling import MANGLERS, mangled_bytes, mangled_csv, mangled_rows, mangled_zip, some_text
from tests.inputs.weeks import good_files, write_folder, write_workbook

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
MOST_SECONDS, WAITING = 20, 10
"""More seconds of work than this and a read counts as hanging; so many times as long where it only waits."""

STEERING = {"Cc", "Cf", "Cs", "Zl", "Zp"}
"""Kinds of signs that move a cursor, turn a line round or end it."""

SEEN_ALL_THE_SAME = set("\u0600\u0601\u0602\u0603\u0604\u0605\u06dd\u070f\u0890\u0891\u08e2\u200c\u200d")
"""Arabic and Syriac number signs, which are printed, and joiners, which some scripts need."""

READ, REFUSED = "read", "refused"

WITHOUT_ROW = {
    *("too_large", "cannot_read", "not_utf8", "not_text", "windows_1252", "empty", "no_rows", "not_a_workbook"),
    *("unknown_sheet", "no_sheet", "no_file", "no_week", "not_json", "not_a_plan", "other_version", "no_such_file"),
}
"""Faults of a file as a whole: no row of it is at fault."""


class HungError(BaseException):
    """A read that does not end; no handler of ours may swallow it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tried:
    """What became of one spoiled thing."""

    kind: str
    seed: int
    came: str
    seconds: float
    problems: tuple[Problem, ...] = ()


@contextmanager
def alarm(seconds: int = MOST_SECONDS) -> Iterator[None]:
    """HungError where what is inside works longer, whatever else the machine has to do."""

    def ring(*_: object) -> None:
        raise HungError(f"not done after {seconds} s")

    rings = ((signal.SIGPROF, signal.ITIMER_PROF, seconds), (signal.SIGALRM, signal.ITIMER_REAL, seconds * WAITING))
    before = [signal.signal(sign, ring) for sign, _, _ in rings]
    for _, timer, after in rings:
        signal.setitimer(timer, after)
    try:
        yield
    finally:
        for (sign, timer, _), was in zip(rings, before, strict=True):
            signal.setitimer(timer, 0)
            signal.signal(sign, was)


def try_one(kind: str, seed: int, place: Path) -> Tried:
    """Spoil something of this kind by this number and bring it in. Raises whatever is neither read nor refused."""
    dice = random.Random(f"{kind}-{seed}")
    began = time.process_time()
    problems: tuple[Problem, ...] = ()
    came = READ
    with alarm():
        try:
            TRIES[kind](dice, place)
        except InputError as refused:
            came, problems = REFUSED, refused.problems
    seconds = time.process_time() - began
    if came == REFUSED:
        assert any(not one.is_warning for one in problems)
    for one in problems:
        assert_fit_to_be_shown(one)
    return Tried(kind=kind, seed=seed, came=came, seconds=seconds, problems=problems)


def assert_fit_to_be_shown(one: Problem) -> None:
    """A fault is one line, harmless to a terminal once it is printed, and says what is wrong and what to write."""
    assert one.file
    assert one.message
    assert one.hint
    assert "\n" not in str(one), str(one)
    assert len(str(one)) < 2_000, str(one)
    shown = api.harmless(str(one))
    assert not any(unicodedata.category(sign) in STEERING for sign in set(shown) - SEEN_ALL_THE_SAME), shown


def read_and_build(path: Path, dice: random.Random) -> Week:
    """A week through its first two doors; one in six on to a first plan, which must be right."""
    inputs, _ = api.read_week_with_warnings(path, may_be_empty=True)
    week = api.build_workload(inputs).week
    if dice.random() < 1 / 6:
        found = first_plan(week)
        assert not isinstance(found, Decoded) or check(week, found.plan) == ()
    return week


def _files(dice: random.Random) -> dict[str, str | bytes]:
    """The small good week, or an invented shop's."""
    if dice.random() < 0.5:
        return good_files()
    folder = SCENARIOS / dice.choice(("solo", "midsize"))
    return {path.name: path.read_text(encoding="utf-8") for path in sorted(folder.iterdir()) if path.suffix in MANGLERS}


def _folder(dice: random.Random, place: Path) -> None:
    files = _files(dice)
    for name in dice.sample(sorted(files), dice.choice((1, 1, 1, 2))):
        text = str(files[name])
        how = MANGLERS[Path(name).suffix]
        files[name] = mangled_bytes(dice, text.encode()) if dice.random() < 0.2 else how(dice, text)
    read_and_build(write_folder(place / "week", files), dice)


def _workbook(dice: random.Random, place: Path) -> None:
    """Cells of a workbook swapped for hostile ones, formulas among them."""
    book = openpyxl.load_workbook(io.BytesIO(_good_workbook()))
    for _ in range(dice.randint(1, 3)):
        sheet: Any = dice.choice(book.worksheets)
        rows = mangled_rows(dice, [["" if cell is None else str(cell) for cell in row] for row in sheet.values])
        for number, row in enumerate(rows, start=1):
            for column, text in enumerate(row, start=1):
                sheet.cell(number, column).value = _cell(dice, text)
    path = place / "week.xlsx"
    book.save(path)
    read_and_build(path, dice)


def _cell(dice: random.Random, text: str) -> Any:
    plain = "".join(sign for sign in text if sign.isprintable() or sign == "\n")[:3000]
    return (
        int(plain)
        if plain.isascii() and plain.isdecimal() and len(plain) < 15 and dice.random() < 0.9
        else plain or None
    )


def _packed(dice: random.Random, place: Path) -> None:
    path = place / "week.xlsx"
    raw = _good_workbook()
    path.write_bytes(mangled_bytes(dice, raw) if dice.random() < 0.3 else mangled_zip(dice, raw))
    read_and_build(path, dice)


@cache
def _good_workbook() -> bytes:
    path = write_workbook(Path(mkdtemp(prefix="pressweek-tests-")) / "week.xlsx", good_files())
    return path.read_bytes()


@cache
def _inputs(name: str) -> WeekInputs:
    return api.read_week(SCENARIOS / name)


@cache
def planned_week(name: str) -> Week:
    """The planning question of an invented shop."""
    return api.build_workload(_inputs(name)).week


def _what_if(dice: random.Random, place: Path) -> None:
    """A what-if in words or in a small file; what is read is applied, and the week built again."""
    inputs = _inputs("midsize")
    kind = dice.choice(sorted(KINDS))
    settings = {one.name: one.example for one in KINDS[kind] if one.is_needed or dice.random() < 0.5}
    for name, value in (("order", "4102"), ("press", "big-eight"), ("location", "front"), ("design", "Fennick Stout")):
        if name in settings and dice.random() < 0.7:
            settings[name] = value
    for name in dice.sample(sorted(settings), min(len(settings), dice.choice((0, 1, 1, 2)))):
        settings[name] = some_text(dice)
    if dice.random() < 0.5:
        asked = " ".join([kind.replace("_", "-"), *(f"{name}='{text}'" for name, text in settings.items())])
        asked = mangled_bytes(dice, asked.encode()).decode("utf-8", "replace") if dice.random() < 0.4 else asked
    else:
        text = "\n".join([f"[[{kind}]]", *(f'{name} = "{value}"' for name, value in settings.items())])
        path = place / "asked.toml"
        path.write_bytes(MANGLERS[".toml"](dice, text) if dice.random() < 0.6 else text.encode())
        asked = str(path)
    for one in api.read_what_ifs([asked], SCENARIOS / "midsize", inputs):
        api.build_workload(edited(inputs, one.what_ifs).inputs)


@cache
def plan_text(name: str) -> str:
    """The plan file of an invented shop's first plan."""
    week = planned_week(name)
    found = first_plan(week)
    assert isinstance(found, Decoded)
    from scheduler.inputs.plan_document import PlanFacts
    from scheduler.inputs.plan_files import write_plan

    facts = PlanFacts(
        digest=week.digest,
        status="stopped",
        seed=1,
        currency="USD",
        cost_cents=1,
        cost_terms=(("late", 1),),
        lower_bound_cents=0,
    )
    path = Path(mkdtemp(prefix="pressweek-tests-")) / "plan.json"
    write_plan(path, week, found.plan, facts)
    return path.read_text(encoding="utf-8")


def _plan_file(dice: random.Random, place: Path) -> None:
    """A plan file; what is read is checked against every rule and measured, and an announced one read with its week."""
    name = dice.choice(("solo", "solo", "solo", "midsize"))
    week = planned_week(name)
    path = place / "plan.json"
    path.write_bytes(MANGLERS[".json"](dice, plan_text(name)))
    if dice.random() < 0.2:
        files = {one.name: one.read_bytes() for one in (SCENARIOS / "solo").iterdir() if one.suffix in MANGLERS}
        read_and_build(write_folder(place / "week", {**files, "announced.json": path.read_bytes()}), dice)
        return
    plan, facts = api.read_plan(path, week)
    api.other_inputs(facts, week)
    if check(week, plan) == ():
        api.measure(week, plan)
        api.plan_view(week, plan)


OWN_SHEET = """\
Order,Customer,Due date,Item,Qty,Placement,Colours,Blanks,Proof
501,Vet,2026-03-09,black tee,144,front,"white, red",in,ok
502,Low Ford,13/03/2026,Navy Hoodie,40,back,2c,ordered 4/3/2026,sent
503,Mill,Fri 13/3,tote,80,front/back,navy,?,approved
"""


def _own_sheet(dice: random.Random, place: Path) -> None:
    """A shop's own spreadsheet brought into a week; nobody may be asked."""
    week = write_folder(place / "week", {"shop.toml": good_files()["shop.toml"], "orders.csv": "order\n"})
    path = place / "own.csv"
    path.write_bytes(mangled_csv(dice, OWN_SHEET))
    (week / "orders.csv").write_text(str(good_files()["orders.csv"]), encoding="utf-8")
    said: list[str] = []
    answers = (lambda _: dice.choice(("", "1", "2", "?", "9", "x"))) if dice.random() < 0.5 else None
    before = (week / "orders.csv").read_bytes()
    try:
        api.bring_sheet(path, week, ask=answers, say=said.append, dates=dice.choice(("", "day first")))
    except InputError:
        assert (week / "orders.csv").read_bytes() == before, "a refused sheet changes nothing"
        raise
    api.read_week_with_warnings(week)


TRIES: dict[str, Callable[[random.Random, Path], object]] = {
    "folder": _folder,
    "workbook": _workbook,
    "packed": _packed,
    "what-if": _what_if,
    "plan file": _plan_file,
    "own sheet": _own_sheet,
    "book": try_book,
}
"""What can be spoiled."""
