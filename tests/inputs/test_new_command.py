"""The command `new` as a stranger meets it: a real process at a terminal or behind a pipe, then check and plan."""

import os
import pty
import re
import select
import subprocess
import sys
import time
from contextlib import suppress
from pathlib import Path

import pytest

from scheduler.inputs.reader import read_week_with_warnings
from tests.inputs.new_shops import ORDERS, SOLO, THREE

ROOT = Path(__file__).resolve().parents[2]
DONE, BAD_INPUT = 0, 2
LONGEST_S = 60

TYPED = (
    "Nuala's Back Room", "Europe/Dublin", "EUR, in", "mon-fri 08:30-12:30, 13:15-17:30", "2026-03-02 08:30", "",
    "", "", "65", "", "", "Nuala: print, screens, pack", "", "20x24, 156 mesh: 15, 6", "20x24, 230 mesh: 9, 3", "",
    "black", "mill loaf, vet paw", "Parcel Van: mon-fri 16:00, 2 days", "",
)  # fmt: skip
"""What somebody with one manual press types, one line for each time the terminal waits."""


def environment() -> dict[str, str]:
    """This process's, with the checkout on the path, so that the command can be run from anywhere."""
    return {**os.environ, "PYTHONIOENCODING": "utf-8", "PYTHONPATH": str(ROOT)}


def pressweek(*arguments: object, folder: Path, typed: str = "") -> subprocess.CompletedProcess[str]:
    """Run the command in a folder, with this text coming in."""
    return subprocess.run(
        [sys.executable, "-m", "scheduler", *map(str, arguments)],
        cwd=folder,
        input=typed,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env=environment(),
        timeout=LONGEST_S,
    )


class Terminal:
    """A pseudo terminal with the command behind it. What it shows is kept; every key that is typed is counted."""

    def __init__(self, *arguments: object, folder: Path) -> None:
        self.shown, self.keys = "", 0
        self._pid, self._file = pty.fork()
        if self._pid == 0:  # the command takes the place of this copy of the tests
            os.chdir(folder)
            os.execve(sys.executable, [sys.executable, "-m", "scheduler", *map(str, arguments)], environment())

    def wait_for(self, sign: str, longest_s: float = LONGEST_S) -> None:
        """Read until the shown text ends with `sign`."""
        end = time.monotonic() + longest_s
        while not re.search(sign, self.shown):
            if time.monotonic() > end:
                raise TimeoutError(self.shown)
            if select.select([self._file], [], [], 0.1)[0]:
                self.shown += os.read(self._file, 65536).decode("utf-8", errors="replace").replace("\r\n", "\n")

    def type(self, line: str) -> None:
        """Type a line and Enter, once the terminal waits for one."""
        self.wait_for(r"\[[^\]\n]*\] $")
        self.keys += len(line) + 1
        self.shown += "\n"
        os.write(self._file, f"{line}\n".encode())

    def interrupt(self) -> None:
        """Press Ctrl-C until it is heard: Python misses one that comes between the prompt and its waiting for keys."""
        self.wait_for(r"\[[^\]\n]*\] $")
        for _ in range(LONGEST_S // 5):
            os.write(self._file, b"\x03")
            with suppress(TimeoutError):
                return self.wait_for("Stopped", 5)
        raise TimeoutError(self.shown)

    def exit_code(self) -> int:
        """Read to the end; the command's exit code."""
        end = time.monotonic() + LONGEST_S
        while True:
            if not select.select([self._file], [], [], 0.1)[0]:
                assert time.monotonic() < end, self.shown
                continue
            try:
                piece = os.read(self._file, 65536)
            except OSError:  # how a pseudo terminal says that nobody is there any more
                break
            if not piece:
                break
            self.shown += piece.decode("utf-8", errors="replace").replace("\r\n", "\n")
        os.close(self._file)
        return os.waitstatus_to_exitcode(os.waitpid(self._pid, 0)[1])


def test_a_stranger_at_a_terminal(tmp_path: Path) -> None:
    """One manual press: fifteen questions and some 350 keys from nothing to a week that can be checked."""
    terminal = Terminal("new", "Back Room", folder=tmp_path)
    for line in TYPED:
        terminal.type(line)
    assert terminal.exit_code() == DONE, terminal.shown
    assert len(re.findall(r"\?\n", terminal.shown)) == 15
    assert terminal.keys < 350
    assert 'pressweek check "Back Room"' in terminal.shown
    assert "\x1b" not in re.sub(r"\x1b\[\?2004[hl]", "", terminal.shown)  # but for what the line editor itself sends
    shop = read_week_with_warnings(tmp_path / "Back Room", may_be_empty=True)[0].shop
    assert (shop.name, len(shop.presses), len(shop.frames), len(shop.burned)) == ("Nuala's Back Room", 1, 2, 2)


def test_enter_alone_is_a_shop(tmp_path: Path) -> None:
    """Twenty times Enter gives a one-press shop that can be read."""
    terminal = Terminal("new", "week", folder=tmp_path)
    for _ in range(20):
        terminal.type("")
    assert terminal.exit_code() == DONE, terminal.shown
    assert terminal.keys == 20
    done = pressweek("check", "week", folder=tmp_path)
    assert done.returncode == DONE
    assert done.stdout.startswith("week: no orders yet, 0 runs to plan, no faults.")


@pytest.mark.parametrize("answered", [0, 7, 19])
def test_ctrl_c_leaves_no_trace(tmp_path: Path, answered: int) -> None:
    """Ctrl-C at the first, a middle and the last question says so in one line, exits with 2 and writes nothing."""
    terminal = Terminal("new", "week", folder=tmp_path)
    for _ in range(answered):
        terminal.type("")
    terminal.interrupt()
    assert terminal.exit_code() == BAD_INPUT
    assert "Stopped before the last answer: nothing was written." in terminal.shown
    assert "Traceback" not in terminal.shown
    assert list(tmp_path.iterdir()) == []


def test_an_input_that_ends_leaves_no_trace(tmp_path: Path) -> None:
    """A pipe that ends before the questions do is the same as Ctrl-C."""
    done = pressweek("new", "week", folder=tmp_path, typed="\n\n\n")
    assert done.returncode == BAD_INPUT
    assert done.stderr.strip() == "Stopped before the last answer: nothing was written."
    assert list(tmp_path.iterdir()) == []


def test_a_week_that_is_there_is_told_before_anything_is_asked(tmp_path: Path) -> None:
    """A second `new` for the same folder exits with 2, asks nothing and changes nothing."""
    assert pressweek("new", "week", folder=tmp_path, typed="\n" * 20).returncode == DONE
    before = {path.name: path.read_bytes() for path in (tmp_path / "week").iterdir()}
    done = pressweek("new", "week", folder=tmp_path, typed="\n" * 20)
    assert done.returncode == BAD_INPUT
    assert "holds a week already" in done.stderr
    assert "[" not in done.stdout
    assert {path.name: path.read_bytes() for path in (tmp_path / "week").iterdir()} == before


def test_an_empty_sheet_cannot_be_planned(tmp_path: Path) -> None:
    """Planning a new week before orders are typed says so and exits with 2."""
    pressweek("new", "week", folder=tmp_path, typed="\n" * 20)
    done = pressweek("plan", "week", "--seconds", 1, folder=tmp_path)
    assert done.returncode == BAD_INPUT
    assert "orders.csv: holds headings and no orders; add a row for each print location" in done.stderr


@pytest.mark.parametrize("answers", [SOLO, THREE], ids=["solo", "three presses"])
def test_from_answers_to_a_plan(tmp_path: Path, answers: str) -> None:
    """Answers, a dozen typed orders, check, plan: every command exits with 0 and the plan is whole and verified."""
    (tmp_path / "answers.toml").write_text(answers, encoding="utf-8")
    assert pressweek("new", "Woche 10", "--answers", "answers.toml", folder=tmp_path).returncode == DONE
    with (tmp_path / "Woche 10" / "orders.csv").open("a", encoding="utf-8", newline="") as sheet:
        sheet.write(ORDERS)
    checked = pressweek("check", "Woche 10", folder=tmp_path)
    assert checked.returncode == DONE, checked.stdout
    assert "12 orders, 12 runs to plan, no faults." in checked.stdout
    planned = pressweek("plan", "Woche 10", "--seconds", 2, "--out", "plan", folder=tmp_path)
    assert planned.returncode == DONE, planned.stderr
    verified = pressweek("verify", "Woche 10", "plan/plan.json", folder=tmp_path)
    assert verified.returncode == DONE, verified.stdout
    assert "The plan keeps all" in verified.stdout


def test_a_workbook_from_the_command(tmp_path: Path) -> None:
    """With --workbook one .xlsx is written and named in the next step."""
    done = pressweek("new", "week", "--workbook", folder=tmp_path, typed="\n" * 20)
    assert done.returncode == DONE
    assert done.stdout.rstrip().endswith("pressweek check week.xlsx")
    assert [path.name for path in tmp_path.iterdir()] == ["week.xlsx"]
    assert pressweek("check", "week.xlsx", folder=tmp_path).returncode == DONE
