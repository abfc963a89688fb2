from pathlib import Path

import pytest

from scheduler.errors import InputError
from scheduler.inputs.reader import read_week, read_week_with_warnings
from tests.inputs.bad_input import BadInput
from tests.inputs.bad_inputs import BAD_INPUTS
from tests.inputs.weeks import good_files, write_folder


@pytest.mark.parametrize("bad", BAD_INPUTS, ids=lambda bad: bad.name)
def test_every_fault_is_told_in_its_own_words_and_once(bad: BadInput, tmp_path: Path) -> None:
    """A bad week is refused with exactly these messages: each names file, line, heading, value and what to write."""
    with pytest.raises(InputError) as refused:
        read_week(write_folder(tmp_path / "week", bad.files))
    assert tuple(str(problem) for problem in refused.value.problems) == bad.expected


def test_the_week_that_is_edited_is_good(tmp_path: Path) -> None:
    """The week all bad ones are made from has neither fault nor warning, so a fault comes from its edit alone."""
    _, warnings = read_week_with_warnings(write_folder(tmp_path / "week", good_files()))
    assert warnings == ()


def test_the_table_holds_many_kinds_of_fault() -> None:
    """More than forty kinds of fault are told apart, and no two entries of the table share a name."""
    names = [bad.name for bad in BAD_INPUTS]
    assert len(set(names)) == len(names)
    assert len({message for bad in BAD_INPUTS for message in bad.expected}) > 120


def test_faults_of_every_kind_carry_a_code_and_a_hint(tmp_path: Path) -> None:
    """Whatever is refused, each problem has a short code without blanks, a message and a hint."""
    codes = set()
    for number, bad in enumerate(BAD_INPUTS):
        with pytest.raises(InputError) as refused:
            read_week(write_folder(tmp_path / str(number), bad.files))
        for problem in refused.value.problems:
            assert problem.code.replace("_", "").isalnum()
            assert problem.message
            assert problem.hint
            codes.add(problem.code)
    assert len(codes) > 60
