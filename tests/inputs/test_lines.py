"""A fault in a settings file, a what-if file or a plan file names the line on which it stands."""

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler import api
from scheduler.errors import InputError
from scheduler.inputs.lines import line_of, lines_of_json, lines_of_toml

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"

TOML = '''\
zone = "UTC"  # [not a section]
hours = [ "mon-fri", "07:00-16:00",
]
[press_room]
note = """
[[press]]
heads = 3
"""
[[press]]
heads = 6
set_up.mount = "3 min"
[press.restart]
break = "5 min"
[[press]]
sizes = [
  "s",
  "m",
]
"odd name" = 7
'''


def test_lines_of_settings_are_those_an_editor_counts() -> None:
    """Sections, several tables of one name, dotted names, values over many lines and texts that look like sections."""
    assert tomllib.loads(TOML)
    lines = lines_of_toml(TOML)
    assert {path: lines[path] for path in lines if path[0] in ("zone", "press", "press_room")} == {
        ("zone",): 1,
        ("press_room",): 4,
        ("press_room", "note"): 5,
        ("press", 0): 9,
        ("press", 0, "heads"): 10,
        ("press", 0, "set_up"): 11,
        ("press", 0, "set_up", "mount"): 11,
        ("press", 0, "restart"): 12,
        ("press", 0, "restart", "break"): 13,
        ("press", 1): 14,
        ("press", 1, "sizes"): 15,
        ("press", 1, "odd name"): 19,
    }
    assert line_of(("press", 1, "heads"), lines) == 14
    assert line_of(("nowhere",), lines) is None


@given(
    st.recursive(
        st.none() | st.booleans() | st.integers() | st.text(max_size=5),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
        max_leaves=12,
    )
)
@settings(max_examples=60, deadline=None)
def test_every_value_of_a_plan_file_has_its_line(document: Any) -> None:
    """Written one value to a line, the lines found are those on which the values stand, in their order."""
    text = json.dumps(document, indent=1)
    lines = lines_of_json(text)
    paths = _paths(document, ())
    assert set(lines) == set(paths)
    found = [lines[path] for path in paths]
    assert found == sorted(set(found))
    for path in paths:
        value = document
        for step in path:
            value = value[step]
        if not isinstance(value, dict | list):
            assert text.splitlines()[lines[path] - 1].rstrip(",").endswith(json.dumps(value))


def _paths(value: Any, path: tuple[str | int, ...]) -> list[tuple[str | int, ...]]:
    within: Any = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path, *(more for step, one in within for more in _paths(one, (*path, step)))]


def test_a_fault_of_a_what_if_names_its_line(tmp_path: Path) -> None:
    """The second table's slip, an unknown setting and a missing one are told on their lines; typed words have none."""
    inputs = api.read_week(SCENARIOS / "midsize")
    order = inputs.orders[0].order_id
    text = f'[[cancel]]\norder = "{order}"\n\n[[cancel]]\norder = "nobody"\n[[pieces]]\nordre = "{order}"\n'
    (tmp_path / "asked.toml").write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as refused:
        api.read_what_ifs([str(tmp_path / "asked.toml"), "cancel order=nobody"], SCENARIOS / "midsize", inputs)
    told = [(one.file, one.row, one.column) for one in refused.value.problems]
    assert ("asked.toml", 5, "cancel.order") in told
    assert ("asked.toml", 7, "pieces.ordre") in told
    assert ("asked.toml", 7, "pieces.pieces") in told
    assert ("what if", None, "cancel.order") in told
