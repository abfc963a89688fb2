"""The pages people read say what is so: commands run, files are there, words and rules are those of the code."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import networkx as nx
import pytest

from scheduler import cli
from scheduler.review.measures import Cost
from scheduler.review.rules import RULES
from tests.command_line import run_here
from tests.rooms_picture import PICTURE, imports_between_rooms, picture
from tests.test_architecture import MAY_IMPORT, OUTSIDE

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PINS = (ROOT / "constraints.txt").read_text(encoding="utf-8")
PAGES = (ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "scenarios").glob("*/README.md")))

WORDS = (
    *("order", "lot", "imprint", "design", "screen set", "run", "staging", "set-up", "strike-off", "ink clean-up"),
    *("burn", "wash out", "reburn", "flash seconds", "time in the tunnel", "ready to leave", "must leave", "in hands"),
    *("firm, normal, easy", "don't touch before", "what if", "waiting for …"),
)
"""Every word of the trade that the guide must explain."""


def command_blocks(page: str) -> list[str]:
    """The lines of every shell block, without their remarks."""
    blocks = re.findall(r"```(?:sh|bat)\n(.*?)```", page, re.DOTALL)
    return [line.split("  #")[0].strip() for block in blocks for line in block.splitlines() if line.strip()]


def table_rows(page: str, first_heading: str) -> list[list[str]]:
    """The rows of the table whose first heading is this one."""
    lines = page.split(f"| {first_heading} |", 1)[1].splitlines()[2:]
    rows = []
    for line in lines:
        if not line.startswith("|"):
            break
        rows.append([cell.strip() for cell in line.strip("|").split("|")])
    return rows


def pressweek(*arguments: str, cwd: Path = ROOT) -> subprocess.CompletedProcess[str]:
    """Run the command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "scheduler", *arguments],
        cwd=cwd,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONIOENCODING": "utf-8", "PYTHONPATH": str(ROOT)},
        timeout=110,
    )


def test_the_two_commands_do_all_the_set_up() -> None:
    """For either kind of system two lines make an environment, install the pinned packages, and plan or test."""
    lines = [line for line in command_blocks(README) if "-m venv" in line]
    assert len(lines) == 4
    for line in lines:
        made, installed, done = line.split(" && ")
        assert made.endswith("-m venv .venv")
        assert "pip install" in installed
        assert "-c constraints.txt" in installed
        assert '".[test]"' in installed
        assert done.endswith(("pressweek demo", "python -m pytest -n 2"))
    assert README.count("pressweek demo") == 2
    assert README.count("python -m pytest -n 2") == 2


def test_commands_can_be_copied_into_any_terminal() -> None:
    """A Windows Command Prompt takes a remark for words and knows no single quotes: neither stands in a command."""
    blocks = re.findall(r"```(?:sh|bat)\n(.*?)```", README, re.DOTALL)
    lines = [line for block in blocks for line in block.splitlines() if line.startswith("pressweek ")]
    assert len(lines) > 10
    for line in lines:
        outside = re.sub(r'"[^"]*"', "", line)
        assert not set("#'\\`$&|<>") & set(outside), line
    assert "```sh\n. .venv/bin/activate\n" in README
    assert "```bat\n.venv\\Scripts\\activate\n" in README


def test_the_server_runs_the_test_command_of_the_readme() -> None:
    """.ci/run installs with the same pins, ends with the same test command, and may be executed."""
    script = ROOT / ".ci" / "run"
    lines = script.read_text(encoding="utf-8").splitlines()
    assert lines[0] == "#!/usr/bin/env bash"
    assert lines[-1].endswith("-m pytest -n 2")
    assert any("-c constraints.txt" in line and '".[test]"' in line for line in lines)
    assert os.access(script, os.X_OK)


def test_the_commands_for_a_real_week_run_as_written(tmp_path: Path) -> None:
    """Copying the solo week and typing the README's lines one after the other works from start to end."""
    shutil.copytree(ROOT / "scenarios" / "solo", tmp_path / "my-week")
    typed = [line.split()[1:] for line in command_blocks(README) if line.startswith("pressweek ")]
    told = [words for words in typed if "my-week" in words and words[0] in ("check", "plan", "verify")]
    assert [words[0] for words in told] == ["check", "plan", "verify"]
    for words in told:
        quick = ["--seconds", "1"] if words[0] == "plan" else []
        done = pressweek(*words, *quick, cwd=tmp_path)
        assert done.returncode == cli.DONE, done.stderr


def test_the_demo_runs() -> None:
    """The command at the top of the README plans the demo shop."""
    done = pressweek("demo", "--seconds", "1")
    assert done.returncode == cli.DONE, done.stderr
    assert done.stdout.startswith("Ostermoor Shirtworks")


def test_every_command_and_option_named_in_the_readme_exists(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """No page sends anybody after a command or an option that is not there."""
    named = {line.split()[1] for line in command_blocks(README) if line.startswith("pressweek ")}
    named |= set(re.findall(r"`pressweek (\w+)", README))
    listed = pressweek("--help").stdout
    assert named
    assert all(f"\n  {command} " in listed for command in named)
    for command in sorted(named):
        assert run_here(monkeypatch, command, "--help") == cli.DONE
    offered = capsys.readouterr().out
    for option in set(re.findall(r"`(--[a-z-]+)`", README)):
        assert option in offered


def test_the_exit_codes_of_the_readme_are_those_of_the_program() -> None:
    """0 done, 1 no plan or a broken rule, 2 a fault in what was typed, 3 our own."""
    assert (cli.DONE, cli.NO_PLAN, cli.BAD_INPUT, cli.OUR_FAULT) == (0, 1, 2, 3)
    told = re.search(r"Exit codes: (.*?)\.\n", README, re.DOTALL)
    assert told is not None
    assert re.findall(r"\b(\d) ", told[1]) == ["0", "1", "2", "3"]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: str(page.relative_to(ROOT)))
def test_links_and_pictures_lead_somewhere(page: Path) -> None:
    """Every link within the project ends at a file, and every link within a page at one of its headings."""
    text = page.read_text(encoding="utf-8")
    headings = {
        re.sub(r"[^\w\- ]", "", title.lower()).replace(" ", "-")
        for title in re.findall(r"^#+ (.+)$", text, re.MULTILINE)
    }
    for target in re.findall(r"\]\(([^)]+)\)", text):
        if target.startswith("#"):
            assert target[1:] in headings, target
        elif not target.startswith("http"):
            assert (page.parent / target).exists(), target


def test_files_named_in_the_guide_exist() -> None:
    """Every file and folder the guide names is there, in full or by the room it names just before."""
    named = [
        name
        for name in re.findall(r"`([\w./-]+)`", GUIDE)
        if re.search(r"^[\w.-]+/[\w./-]*$", name) or name.endswith((".py", ".toml", ".txt"))
    ]
    assert len(named) > 40
    rooms = [ROOT, ROOT / "scheduler", *(path for path in (ROOT / "scheduler").iterdir() if path.is_dir())]
    week_files = {"shop.toml", "taken.toml"}
    missing = [name for name in named if name not in week_files and not any((room / name).exists() for room in rooms)]
    assert missing == []


def test_the_guide_explains_every_word() -> None:
    """The glossary has every word of the trade this program uses, each with its meaning."""
    rows = table_rows(GUIDE, "word")
    explained = {row[0].split(" (")[0] for row in rows}
    assert set(WORDS) - {word.strip() for cell in explained for word in (cell, *cell.split(", "))} == set()
    assert all(len(row) == 3 and row[1] for row in rows)


def test_the_code_names_in_the_glossary_are_in_the_code() -> None:
    """What the glossary gives as the name of a thing in code is found there."""
    code = "\n".join(path.read_text(encoding="utf-8") for path in sorted((ROOT / "scheduler").rglob("*.py")))
    for row in table_rows(GUIDE, "word"):
        for name in re.findall(r"`([\w.]+)[^`]*`", row[2]):
            assert name.endswith("py") or all(re.search(rf"\b{part}\b", code) for part in name.split(".")), name


def test_the_guide_has_every_rule_and_no_other() -> None:
    """Each rule the checker knows has its paragraph, in the checker's order of kinds, and no paragraph is left over."""
    told = re.findall(r"^- \*\*`(\w+)`\*\*", GUIDE, re.MULTILINE)
    assert sorted(told) == sorted(rule.__name__ for rule in RULES)


def test_the_guide_has_every_term_of_the_cost() -> None:
    """The table of costs names each term once."""
    told = [row[0].replace("-", "_") for row in table_rows(GUIDE, "term")]
    assert sorted(told) == sorted(name for name in Cost.__dataclass_fields__)


def test_the_guide_says_who_may_import_whom() -> None:
    """Its table is the one that the imports are checked against."""
    rows = {row[0].strip("`"): row for row in table_rows(GUIDE, "room")}
    assert set(rows) | {"__init__", "__main__"} == set(MAY_IMPORT)
    for room, (_, rooms, libraries) in rows.items():
        named = set(re.findall(r"`(\w+)`", rooms))
        expected = MAY_IMPORT[room]
        assert named == expected or (rooms == "all of the above" and set(rows) >= expected), room
        assert {one.strip() for one in libraries.split(",") if one.strip()} == OUTSIDE.get(room, set()), room


def test_the_picture_of_the_rooms_is_that_of_the_code() -> None:
    """The guide's picture is what the imports of today draw; `python -m tests.rooms_picture` draws it anew."""
    drawn = picture(imports_between_rooms())
    assert PICTURE.read_text(encoding="utf-8") == drawn, "python -m tests.rooms_picture draws it anew"


def test_imports_go_one_way() -> None:
    """No room imports one that imports it, however far round, and every room of the table stands in the picture."""
    graph = imports_between_rooms()
    assert nx.is_directed_acyclic_graph(graph)
    assert set(graph) == (set(MAY_IMPORT) | {"dashboard"}) - {"__init__", "__main__"}


def test_pins_are_plain_and_complete() -> None:
    """constraints.txt pins each package once as name==version, no address, and every package the project asks for."""
    lines = [line for line in PINS.splitlines() if line and not line.startswith("#")]
    pinned = [re.fullmatch(r"([A-Za-z0-9._-]+)==([\w.]+)", line) for line in lines]
    assert all(pinned)
    names = [re.sub(r"[-_.]+", "-", one[1]).lower() for one in pinned if one]
    assert len(names) == len(set(names))
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    asked = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    assert {re.split(r"[<>=!~\[; ]", one)[0].lower() for one in asked} <= set(names)


@pytest.mark.parametrize("page", [*PAGES, ROOT / ".ci" / "run", ROOT / "constraints.txt"], ids=lambda page: page.name)
def test_pages_name_no_machine(page: Path) -> None:
    """No page holds a path of the machine it was written on."""
    assert not re.search(r"(?<![\w.])/(work|tmp|root|home|opt|usr/local)/", page.read_text(encoding="utf-8"))
