"""What the two guides say is so: commands run, files and rules exist, tables agree with the code."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from scheduler.review.rules import RULES
from tests.test_architecture import MAY_IMPORT

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_the_readme_sets_up_with_the_pinned_packages_and_the_tests_extra() -> None:
    """Both set-up lines, for both kinds of machine, make an environment, install with the pins, and run something."""
    lines = re.findall(r"^(?:python3|py) -m venv .*$", README, re.MULTILINE)
    assert len(lines) == 4
    assert all('-c constraints.txt -e ".[test]"' in line for line in lines)
    assert [line.rsplit("&& ", 1)[1] for line in lines] == [
        ".venv/bin/pressweek demo",
        ".venv/bin/python -m pytest -n 2",
        ".venv\\Scripts\\pressweek demo",
        ".venv\\Scripts\\python -m pytest -n 2",
    ]
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["scripts"] == {"pressweek": "scheduler.cli:main"}


def test_the_checks_script_installs_and_tests_as_the_readme_does() -> None:
    """What lands a change is what the README tells a newcomer to run."""
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert '-c constraints.txt -e ".[test]"' in script
    assert "-m pytest -n 2" in script


@pytest.mark.parametrize("command", sorted(set(re.findall(r"^pressweek (\w+)", README, re.MULTILINE))))
def test_every_command_the_readme_shows_exists(command: str) -> None:
    """The command is known and explains itself."""
    done = subprocess.run(
        [sys.executable, "-m", "scheduler", command, "--help"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr
    assert command in done.stdout


def test_every_rule_has_its_paragraph_and_every_paragraph_its_rule() -> None:
    """The guide explains exactly the rules the checker has."""
    explained = set(re.findall(r"^- \*\*`(\w+)`\*\*", GUIDE, re.MULTILINE))
    assert explained == {rule.__name__ for rule in RULES}


def test_the_guides_table_of_imports_is_the_one_that_is_held() -> None:
    """Rooms and the rooms they may import stand in the guide as the architecture test holds them."""
    rows = re.findall(r"^\| `(\w+)` \| ([^|]*) \|", GUIDE, re.MULTILINE)
    told = {room: set(re.findall(r"`(\w+)`", cell)) for room, cell in rows if room in MAY_IMPORT}
    told["api"] = MAY_IMPORT["api"]  # "all of the above"
    assert told == {room: allowed for room, allowed in MAY_IMPORT.items() if not room.startswith("__")}


def test_files_named_in_the_guides_exist() -> None:
    """Whoever follows a path in a guide finds something there."""
    named = set(re.findall(r"(?:scheduler|tests|scenarios)/[\w/.-]*\w", README + GUIDE))
    missing = {path for path in named if not (ROOT / path).exists()}
    assert len(named) > 20
    assert missing == set()


def test_pictures_in_the_readme_exist() -> None:
    """Every picture shown is in the repository."""
    shown = re.findall(r"!\[[^]]+\]\(([^)]+)\)", README)
    assert shown
    assert all((ROOT / path).is_file() for path in shown)


def test_the_top_level_holds_only_what_belongs_there() -> None:
    """A newcomer sees the two guides, the project file, the packages, tests and scenarios."""
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    top = {path.split("/")[0] for path in tracked.splitlines()}
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", "constraints.txt"}
    folders = {"scheduler", "dashboard", "tests", "scenarios"}
    assert {name for name in top if not name.startswith(".")} <= allowed | folders
