"""Every kind of bad input there is a test for, with the exact messages: for the reader's tests and the command's."""

from __future__ import annotations

from tests.inputs.bad_floors import BAD_FLOORS
from tests.inputs.bad_input import BadInput
from tests.inputs.bad_orders import BAD_ORDERS
from tests.inputs.bad_shops import BAD_SHOPS
from tests.inputs.bad_side_files import BAD_SIDE_FILES

BAD_INPUTS: tuple[BadInput, ...] = (*BAD_ORDERS, *BAD_FLOORS, *BAD_SHOPS, *BAD_SIDE_FILES)
"""Bad weeks by name."""
