"""Turns functions over rows of whole numbers into machine code where numba is there; elsewhere they stay as is."""

from __future__ import annotations

from collections.abc import Callable
from typing import ParamSpec, TypeVar

from scheduler.search.quick.kept_code import kept_in

P = ParamSpec("P")
R = TypeVar("R")

try:
    import numba
except ImportError:  # a machine for which there is no numba plans all the same, only more slowly
    numba = None

if numba is not None and kept_in() is not None:
    numba.config.CACHE_DIR = str(kept_in())


# Rows come from outside and are never made inside, so nothing has to be counted: counting who holds a row at every call
# took two fifths of the time.
OPTIONS = {"error_model": "numpy", "_nrt": False}


def compiled(function: Callable[P, R]) -> Callable[P, R]:
    """The function as machine code for other compiled ones; it cannot be called from outside."""
    if numba is None:
        return function
    made = numba.njit(no_cpython_wrapper=True, no_cfunc_wrapper=True, **OPTIONS)(function)
    if not numba.config.DISABLE_JIT:
        # The library would compile a function, and all it calls, anew for every number written out in a call of it.
        compile_for = made.compile
        made.compile = lambda kinds: compile_for(tuple(numba.types.unliteral(kind) for kind in kinds))
    plain: Callable[P, R] = made
    return plain


def compiled_and_kept(function: Callable[P, R]) -> Callable[P, R]:
    """As `compiled`, for the few functions called from outside: their machine code is kept for the next start."""
    if numba is None:
        return function
    made: Callable[P, R] = numba.njit(cache=kept_in() is not None, **OPTIONS)(function)
    return made
