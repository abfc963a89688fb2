"""What the search varies: the order in which runs are placed, their presses, released sets, bought overtime."""

from __future__ import annotations

from dataclasses import dataclass

from scheduler.search.tables import Tables, with_nested


@dataclass(frozen=True, slots=True, kw_only=True)
class Genome:
    """One way to build a plan.

    order: all run ids, the first is placed first. press: a press id per run in the order of `week.runs`, None where
    the decoder picks the press on which the run ends first. release: runs after whose use the set is reclaimed and
    burned anew for its next use, instead of held. overtime: bought blocks. waits: announced runs that are not set up
    before their announced time. later: (run id, shop minute) of runs that are not set up before that minute, so that
    they come after a locked run, or on another day. stands: runs that are not set up before their freshly burned
    screens have stood ready as long as the shop wants.
    """

    order: tuple[str, ...]
    press: tuple[str | None, ...] = ()
    release: frozenset[str] = frozenset()
    overtime: frozenset[str] = frozenset()
    waits: frozenset[str] = frozenset()
    later: tuple[tuple[str, int], ...] = ()
    stands: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Genes:
    """A genome by numbers; press -1: the decoder picks; later 0: as early as can be."""

    order: tuple[int, ...]
    press: tuple[int, ...]
    release: frozenset[int]
    bought: frozenset[str]
    waits: frozenset[int]
    later: tuple[int, ...]
    stands: frozenset[int] = frozenset()


def genes_of(tables: Tables, genome: Genome) -> Genes:
    """Number a genome. Blocks that must be bought first are bought too. Raises KeyError for unknown ids."""
    number = tables.run_number
    later = dict(genome.later)
    press = genome.press or (None,) * len(tables.runs)
    return Genes(
        order=tuple(number[run_id] for run_id in genome.order),
        press=tuple(-1 if press_id is None else tables.press_number[press_id] for press_id in press),
        release=frozenset(number[run_id] for run_id in genome.release),
        bought=with_nested(tables, genome.overtime),
        waits=frozenset(number[run_id] for run_id in genome.waits),
        later=tuple(later.get(run.run_id, 0) for run in tables.runs),
        stands=frozenset(number[run_id] for run_id in genome.stands),
    )


def genome_of(tables: Tables, genes: Genes) -> Genome:
    """A genome by ids again."""
    runs, presses = tables.runs, tables.week.presses
    return Genome(
        order=tuple(runs[number].run_id for number in genes.order),
        press=tuple(None if number < 0 else presses[number].press_id for number in genes.press),
        release=frozenset(runs[number].run_id for number in genes.release),
        overtime=genes.bought,
        waits=frozenset(runs[number].run_id for number in genes.waits),
        later=tuple((runs[number].run_id, tau) for number, tau in enumerate(genes.later) if tau),
        stands=frozenset(runs[number].run_id for number in genes.stands),
    )
