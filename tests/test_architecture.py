"""Who may import whom, what the rooms may contain, and which words never reach a person."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path

import pytest

from scheduler.model.build import CONSTRAINTS, TERMS
from scheduler.review.measures import Cost
from scheduler.review.rules import RULES

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "scheduler"
DASHBOARD = ROOT / "dashboard"
MOST_LINES = 400

EVERYTHING = {"domain", "errors", "inputs", "model", "papers", "review", "safe_files", "search", "trade", "workload"}
MAY_IMPORT: dict[str, set[str]] = {
    "__init__": set(),
    "errors": set(),
    "safe_files": {"errors"},
    "domain": {"errors"},
    "trade": {"domain"},
    "workload": {"domain", "trade", "errors"},
    "inputs": {"domain", "errors", "safe_files"},
    "model": {"domain", "trade"},
    "search": {"domain", "trade", "errors", "model"},
    "review": {"domain", "trade"},
    "roster": {"domain", "review"},
    "papers": {"domain", "trade", "review", "roster"},
    "insight": {"domain", "trade", "review", "roster", "search"},
    "promise": {"domain", "errors", "insight", "papers", "what_if"},
    "shipping": {"domain", "errors", "insight", "papers", "safe_files"},
    "typed_offers": {"domain", "errors", "insight", "review", "search", "workload"},
    "holding_up": {"domain", "insight", "papers", "review"},
    "questions": EVERYTHING,
    "what_if": {"domain", "errors", "inputs", "papers", "review", "safe_files", "search", "workload"},
    "plan_view": {"domain", "papers", "review", "roster", "search"},
    "floor_papers": {"domain", "errors", "papers", "questions", "safe_files"},
    "record": {"domain", "errors", "insight", "papers", "review", "search", "trade", "what_if", "workload"},
    "book": {"domain", "errors", "record", "safe_files"},
    "api": EVERYTHING
    | {
        "floor_papers",
        "holding_up",
        "insight",
        "plan_view",
        "promise",
        "questions",
        "record",
        "shipping",
        "typed_offers",
        "what_if",
    },
    "terminal": {"api"},
    "watching": {"api", "domain", "terminal"},
    "cli": {
        *("api", "errors", "domain", "terminal", "watching"),
        *(
            "book_commands",
            "bottleneck_command",
            "check_command",
            "dashboard_command",
            "papers_command",
            "shipping_commands",
            "shop_commands",
            "what_if_command",
        ),
    },
    "check_command": {"api", "domain", "errors", "terminal"},
    "shop_commands": {"api", "errors"},
    "dashboard_command": {"api", "errors"},
    "bottleneck_command": {"api", "domain", "terminal", "watching"},
    "shipping_commands": {"api", "domain", "shop_book", "terminal", "watching"},
    "papers_command": {"api", "domain", "terminal", "watching"},
    "what_if_command": {"api", "domain", "errors", "terminal", "watching"},
    "shop_book": {"api", "book", "domain", "errors", "inputs", "papers", "record", "safe_files"},
    "book_commands": {"domain", "errors", "shop_book", "terminal"},
    "__main__": {"cli"},
}
"""Rooms of the package and the rooms each may import beside itself. A room that is not here fails."""

OUTSIDE: dict[str, set[str]] = {
    "inputs": {"holidays", "openpyxl", "pint", "tomlkit"},
    "workload": {"holidays"},
    "model": {"ortools"},
    "search": {"numba", "numpy", "ortools", "platformdirs", "scipy"},
    "roster": {"ortools"},
    "insight": {"numpy"},
    "papers": {"icalendar", "jinja2", "markupsafe", "openpyxl", "weasyprint"},
    "book": {"alembic", "cattrs", "sqlalchemy"},
    "book_commands": {"typer"},
    "record": {"numpy"},
    "terminal": {"rich"},
    "cli": {"rich", "typer"},
    "check_command": {"rich", "typer"},
    "shop_commands": {"typer"},
    "dashboard_command": {"typer"},
    "what_if": {"distributed"},
    "what_if_command": {"typer"},
    "bottleneck_command": {"typer"},
    "shipping_commands": {"typer"},
    "papers_command": {"typer"},
    "watching": {"typer"},
}
"""Libraries beyond Python's own that a room may import. What is independent stays so: review has none."""

DASHBOARD_SEES = {"api", "domain", "errors", "shop_book"}
"""Rooms that a page may import."""

DASHBOARD_OUTSIDE = {False: {"pandas", "plotly", "streamlit"}, True: {"pandas", "plotly"}}
"""Libraries of the pages, and of the charts, which know nothing of how they are shown."""

IMPLICIT_RULES = {"every_run_once"}
"""Rules the checker has beyond the model's: how the model's variables are made, they cannot be broken there."""

BANNED_NAMES = {"utils", "util", "helpers", "helper", "common", "manager", "managers", "misc"}
BANNED_WORDS = re.compile(
    r"\b(jobs?|skus?|slack|tard(y|iness)|makespan|fr(ee|o)z(e|en)( window)?|blocked|starved|solvers?|"
    r"(?<!font-)weights?|dwell)\b",
    re.I,
)
SHOWN_ROOMS = (
    *("book", "papers", "record", "review", "what_if", "workload"),
    *(
        "book_commands",
        "check_command",
        "cli",
        "dashboard_command",
        "shop_book",
        "shop_commands",
        "terminal",
        "watching",
        "what_if_command",
    ),
)
"""Rooms whose strings are read by people."""


def modules() -> list[Path]:
    """Every Python file of the package."""
    return sorted(PACKAGE.rglob("*.py"))


def dashboard_modules() -> list[Path]:
    """Every Python file of the dashboard."""
    return sorted(DASHBOARD.rglob("*.py"))


def room_of(path: Path) -> str:
    """The room a file belongs to: its folder, or its own name beside the folders."""
    return path.relative_to(PACKAGE).parts[0].removesuffix(".py")


def imports_of(path: Path) -> Iterator[tuple[int, str]]:
    """(dots, dotted name) of everything a file imports, inside functions too."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from ((0, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            name = node.module or ""
            # "from scheduler import x" names a room as much as "from scheduler.x import y".
            yield from ((node.level, f"{name}.{alias.name}" if name == "scheduler" else name) for alias in node.names)


@pytest.mark.parametrize("path", modules(), ids=lambda path: str(path.relative_to(ROOT)))
def test_rooms_import_only_what_they_may(path: Path) -> None:
    """A module imports its own room, the rooms the table lists for it, and the libraries listed for it."""
    room = room_of(path)
    assert room in MAY_IMPORT, f"{room} is not in the table of who may import whom"
    for dots, name in imports_of(path):
        first, *rest = name.split(".")
        assert dots == 0, f"relative import of {name or '.'}"
        if first == "scheduler":
            assert rest
            assert rest[0] in MAY_IMPORT[room] | {room}, f"{room} may not import {name}"
        elif first not in sys.stdlib_module_names:
            assert first in OUTSIDE.get(room, set()), f"{room} may not import {name}"


@pytest.mark.parametrize("path", dashboard_modules(), ids=lambda path: str(path.relative_to(ROOT)))
def test_the_dashboard_sees_front_doors_only(path: Path) -> None:
    """A page imports its own package, the front doors, domain and errors; charts know nothing of Streamlit."""
    folder = path.relative_to(DASHBOARD).parts[0]
    for dots, name in imports_of(path):
        first, *rest = name.split(".")
        assert dots == 0, f"relative import of {name or '.'}"
        if first == "scheduler":
            assert rest
            assert rest[0] in DASHBOARD_SEES, f"the dashboard may not import {name}"
        elif first not in sys.stdlib_module_names and first != "dashboard":
            assert first in DASHBOARD_OUTSIDE[folder == "charts"], f"{folder} may not import {name}"


def test_the_program_works_without_its_dashboard() -> None:
    """Nothing of the planning program imports the dashboard; the command starts it as a program of its own."""
    assert not [path for path in modules() for _, name in imports_of(path) if name.split(".")[0] == "dashboard"]


def test_the_table_names_only_what_exists() -> None:
    """Every room in the tables is there, so the tables cannot grow stale."""
    rooms = {room_of(path) for path in modules()}
    assert set(MAY_IMPORT) == rooms
    assert set(OUTSIDE) <= rooms
    assert set(SHOWN_ROOMS) <= rooms


def test_the_check_of_imports_sees_them(tmp_path: Path) -> None:
    """A planted import is seen in every form, at the top and inside a function."""
    path = tmp_path / "planted.py"
    path.write_text("import a.b\nfrom c import d\nfrom . import e\ndef f():\n    from scheduler import model\n")
    assert set(imports_of(path)) == {(0, "a.b"), (0, "c"), (1, ""), (0, "scheduler.model")}


@pytest.mark.parametrize("name", ["model", "search", "inputs", "workload"])
def test_the_independent_eye_stays_independent(name: str) -> None:
    """Nothing that finds plans can be reached from the room that checks them, however far round."""
    reached, todo = set(), ["review"]
    while todo:
        room = todo.pop()
        if room not in reached:
            reached.add(room)
            todo += MAY_IMPORT[room]
    assert name not in reached


def test_every_rule_of_the_model_has_its_check() -> None:
    """The model's rules are the checker's rules by name; beyond them the checker has only the listed ones."""
    model, review = {rule.__name__ for rule in CONSTRAINTS}, {rule.__name__ for rule in RULES}
    assert len(model) == len(CONSTRAINTS)
    assert len(review) == len(RULES)
    assert review - model == IMPLICIT_RULES
    assert model <= review


def test_every_term_of_the_cost_is_measured() -> None:
    """The model's cost terms are the measured ones, by name and in the same order."""
    assert [term.__name__ for term in TERMS] == [field.name for field in fields(Cost)]


@pytest.mark.parametrize("path", [*modules(), *dashboard_modules()], ids=lambda path: str(path.relative_to(ROOT)))
def test_files_stay_readable_in_one_sitting(path: Path) -> None:
    """No file grows beyond what a reader takes in at once."""
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES


def test_files_of_tests_stay_readable_too() -> None:
    """No file of tests grows beyond what a reader takes in at once."""
    files = sorted((ROOT / "tests").rglob("*.py"))
    assert len(files) > 300
    assert [path.name for path in files if len(path.read_text(encoding="utf-8").splitlines()) > MOST_LINES] == []


def test_names_say_what_is_inside() -> None:
    """No module or folder has a name that could hold anything."""
    for folder in ("scheduler", "dashboard", "tests"):
        for path in (ROOT / folder).rglob("*.py"):
            parts = {part.removesuffix(".py") for part in path.relative_to(ROOT).parts}
            assert not parts & BANNED_NAMES, path


def shown_strings(path: Path) -> Iterator[str]:
    """Texts of a file but for its docstrings (which people in the shop never see)."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    is_cli = path.name == "cli.py"  # a command's docstring is its help text
    notes = {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and not is_cli
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in notes:
            yield node.value


def shown_files() -> list[Path]:
    """Files with texts for people: templates and the rooms that speak."""
    spoken = [path for path in modules() if room_of(path) in SHOWN_ROOMS]
    return [*sorted(PACKAGE.rglob("*.html")), *spoken, *dashboard_modules()]


@pytest.mark.parametrize("path", shown_files(), ids=lambda path: str(path.relative_to(ROOT)))
def test_people_read_shop_words(path: Path) -> None:
    """No word of planners' theory or of other trades' programs stands in a text shown to people."""
    texts = list(shown_strings(path)) if path.suffix == ".py" else [_without_style(path.read_text(encoding="utf-8"))]
    for text in texts:
        found = BANNED_WORDS.search(text)
        assert found is None, f"{found and found[0]!r} in {text[:80]!r}"


def _without_style(html: str) -> str:
    return re.sub(r"\{% block style %\}.*?\{% endblock %\}|<style>.*?</style>", "", html, flags=re.S)


def test_the_banned_words_are_seen() -> None:
    """The pattern sees each banned word in any case, and leaves shop words alone."""
    for word in ("job", "Jobs", "SKU", "slack", "tardiness", "freeze", "frozen", "blocked", "starved", "solver"):
        assert BANNED_WORDS.search(f"the {word} of the day")
    assert not BANNED_WORDS.search("blocks out and tapes; black; block; set-up; freestanding")


@pytest.mark.parametrize(
    "module", ["scheduler.cli", "scheduler.api", "scheduler.inputs.plan_files", "scheduler.papers.tables"]
)
def test_front_doors_open_without_the_heavy_libraries(module: str) -> None:
    """Importing the command or the front doors loads neither ortools nor pandas nor numpy."""
    asked = "import sys, importlib; importlib.import_module(sys.argv[1]); print(*sorted(sys.modules))"
    done = subprocess.run([sys.executable, "-c", asked, module], cwd=ROOT, capture_output=True, text=True, check=True)
    assert not {"ortools", "pandas", "numpy", "scipy", "networkx"} & set(done.stdout.split())
