"""Compiled trials held to the decoder on random weeks; run as a program it tries them uncompiled."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from pathlib import Path

from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.genome import Genes, Genome, genes_of
from scheduler.search.quick.trials import Trials, Tried
from tests.random_weeks import random_week
from tests.search.genomes import lock_some, random_genome

ROOT = Path(__file__).resolve().parents[2]


def agree(one: Week, seed: int, genomes: int, *, is_short: bool = False) -> int:
    """Try random genes both ways; how many came to a plan. is_short: the row has no room for a single event more."""
    decoder, rng = Decoder(one), random.Random(seed)
    if not Trials.can_try(decoder):
        return 0
    trials, plans = Trials(decoder), 0
    for _ in range(genomes):
        genes = genes_of(decoder.tables, random_genome(one, rng))
        plans += same(decoder.decode_genes(genes), tried(trials, genes, is_short=is_short))
    return plans


def tried(trials: Trials, genes: Genes, *, is_short: bool = False) -> Tried | Refused:
    """Genes tried from the start."""
    begun = trials.begin(genes)
    if isinstance(begun, Refused):
        return begun
    if is_short:
        begun.s = begun.s[: trials.used(begun)].copy()
    return trials.finish(genes, begun)


def same(found: Decoded | Refused, quick: Tried | Refused) -> bool:
    """True for a plan; fails unless both say the same, to the cent and to the minute."""
    assert isinstance(found, Refused) == isinstance(quick, Refused)
    if isinstance(found, Refused) or isinstance(quick, Refused):
        return False
    assert quick.cost_cents == found.cost_cents
    assert quick.packed_tau == found.packed_tau
    assert quick.earliness == found.earliness
    assert quick.late_cents_min == found.late_cents_min
    return True


def agree_around_locks(seed: int, genomes: int, *, size: str = "small", is_short: bool = False) -> int:
    """As `agree`, for a week in which runs stay where an earlier plan had them."""
    one = random_week(seed, size=size)
    first = Decoder(one).decode(Genome(order=tuple(one.run)))
    if isinstance(first, Refused):
        return 0
    return agree(lock_some(one, first.plan, random.Random(seed)), seed, genomes, is_short=is_short)


def run_uncompiled(code: str) -> str:
    """What a program prints in a process where nothing is compiled."""
    done = subprocess.run(
        [sys.executable, *code.split(maxsplit=1)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        env={**os.environ, "NUMBA_DISABLE_JIT": "1", "PYTHONPATH": str(ROOT)},
        timeout=110,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


if __name__ == "__main__":
    sizes = {"tiny": 12, "small": 12, "medium": 2}
    plans = sum(agree(random_week(seed, size=size), seed, 2) for size, count in sizes.items() for seed in range(count))
    print(plans + sum(agree_around_locks(seed, 2) for seed in range(60, 70)))
    sys.exit(0)
