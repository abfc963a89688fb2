"""The planner's own sequence timed under every rule, each press's queue in the listed order as far as that can be.

First the list is decoded as it stands. Where a run had to be put off (frames still bound, a locked run in the way) and
others of its press went ahead, the presses found are kept and every press works off its list strictly: no run before
the one listed before it, as long as any press can go on. Only where no press can go on does the order give.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from scheduler.domain.own_order import OwnOrder
from scheduler.domain.plan import Plan
from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder, Progress, Refused
from scheduler.search.genome import Genes, Genome, genes_of, genome_of
from scheduler.search.list_order import ListOrder, WhyNot, list_order
from scheduler.search.reasons import with_reasons
from scheduler.search.words import from_text, press_text

MOST_PULLED_UP = 20
"""Runs without a place that are taken to the front, one after the other, before the list is given up."""
SHOWN = 3
"""Runs that a sentence names of many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AsListed:
    """The planner's sequence, timed.

    listed: every run in the listed order. genome makes the plan again. told: what could not be done as listed and what
    was done instead, a sentence each. not_named: runs the list does not name; they come after, by due date.
    names_every_press: no run was left to the press where it ends first.
    """

    plan: Plan
    listed: tuple[str, ...]
    genome: Genome
    decoded: Decoded
    not_named: tuple[str, ...]
    told: tuple[str, ...]
    names_every_press: bool


def time_list(week: Week, own: OwnOrder, why_not: WhyNot | None = None) -> AsListed | Refused:
    """Time a planner's list; Refused if not even the nearest doable thing makes a plan.

    Of two ways to treat screens (held for their next use, or reclaimed and burned anew) the one is taken that keeps
    more of the order, then the cheaper one. Overtime is bought, all of it, only if there is no plan without.
    """
    asked = list_order(week, own, why_not)
    decoder = Decoder(week)
    timed = _timed(week, decoder, asked)
    if isinstance(timed, Refused):
        return timed
    way, told = timed
    plan = with_reasons(week, way.decoded.plan)
    return AsListed(
        plan=plan,
        listed=way.listed,
        genome=way.genome,
        decoded=way.decoded,
        not_named=asked.not_named,
        told=(*asked.told, *told, *_given_ways(week, way.listed, plan)),
        names_every_press=all(run.run_id in asked.press or len(run.choices) == 1 for run in week.runs),
    )


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to work off a list. swapped: pairs of runs of a press that are not in the listed order."""

    listed: tuple[str, ...]
    genome: Genome
    decoded: Decoded
    swapped: int

    @property
    def rank(self) -> tuple[int, int]:
        """Less is nearer to the list, then cheaper."""
        return self.swapped, self.decoded.cost_cents


def _timed(week: Week, decoder: Decoder, asked: ListOrder) -> tuple[_Way, tuple[str, ...]] | Refused:
    """The nearest doable sequence, and what is done instead of the list."""
    press = tuple(asked.press.get(run.run_id) for run in week.runs)
    every_block = frozenset(block.block_id for block in week.overtime)
    order, pulled = asked.order, list[str]()
    while True:
        why: Refused | None = None
        for bought in dict.fromkeys((frozenset[str](), every_block)):
            best: _Way | None = None
            for release in (frozenset[str](), frozenset(week.run)):
                found = _way(decoder, Genome(order=order, press=press, overtime=bought, release=release))
                if isinstance(found, Refused):
                    why = why or found
                elif best is None or found.rank < best.rank:
                    best = found
            if best is not None:
                return best, _done_instead(bought, pulled)
        assert why is not None
        stuck = [run_id for run_id in why.run_ids if run_id not in pulled]
        if not stuck or len(pulled) == MOST_PULLED_UP:
            return why
        pulled.append(stuck[0])
        order = _first(week, stuck[0], order)


def _done_instead(bought: frozenset[str], pulled: list[str]) -> tuple[str, ...]:
    told = [f"{run_id} finds no place in the planned days where it is listed: it goes first." for run_id in pulled]
    if bought:
        told.append("Without overtime the list does not fit the planned days: all that is on offer is worked.")
    return tuple(told)


def _first(week: Week, run_id: str, order: tuple[str, ...]) -> tuple[str, ...]:
    """The order with a run in front, and before it what it prints after."""
    ahead = [run_id]
    for one in ahead:
        ahead.extend(before for before in week.run[one].print_after if before not in ahead)
    return (*reversed(ahead), *(one for one in order if one not in ahead))


def _way(decoder: Decoder, genome: Genome) -> _Way | Refused:
    """The list as decoded or, where that leaves pairs out of order, each press held strictly to its list."""
    decoded = decoder.decode(genome)
    if isinstance(decoded, Refused):
        return decoded
    plain = _Way(genome.order, genome, decoded, len(overtaken(genome.order, decoded)))
    strict = _Strict(decoder, genes_of(decoder.tables, genome), decoded).genes() if plain.swapped else None
    held = None if strict is None else decoder.decode_genes(strict)
    if strict is None or not isinstance(held, Decoded):
        return plain
    strictly = _Way(genome.order, genome_of(decoder.tables, strict), held, len(overtaken(genome.order, held)))
    return strictly if strictly.swapped < plain.swapped else plain


def overtaken(listed: tuple[str, ...], decoded: Decoded) -> list[tuple[str, str]]:
    """(run, run) of one press: the first is listed before the second and is set up after it."""
    runs = decoded.tables.runs
    rank = {run_id: at for at, run_id in enumerate(listed)}
    queues = [[runs[number].run_id for number in queue] for queue in decoded.state.queues]
    return [
        (one, other)
        for queue in queues
        for at, one in enumerate(queue)
        for other in queue[:at]
        if rank[other] > rank[one]
    ]


class _Strict:
    """Every press works off its list: the next run of any press that can be placed, the one listed first before others.

    Where no press can go on, the first run that can be placed goes ahead of its press's list.
    """

    def __init__(self, decoder: Decoder, genes: Genes, decoded: Decoded) -> None:
        self.decoder = decoder
        self.listed = genes.order
        press = tuple(decoded.state.of(run.number).choice.press for run in decoder.tables.runs)
        self.base = replace(genes, order=(), press=press)
        self.later = list(genes.later)
        self.order: list[int] = []

    def genes(self) -> Genes | None:
        """The genes found; None if some run finds no place this way."""
        begun = self.decoder.begin(self.base)
        if isinstance(begun, Refused):
            return None
        progress = begun
        runs = self.decoder.tables.runs
        left = [number for number in self.listed if runs[number].fixed_start_tau < 0]
        while left:
            after = self._with_one_more(progress, left)
            if after is None:
                return None
            progress = after
            left.remove(self.order[-1])
        fixed = tuple(number for number in self.listed if runs[number].fixed_start_tau >= 0)
        return replace(self.base, order=(*self.order, *fixed), later=tuple(self.later))

    def _with_one_more(self, progress: Progress, left: list[int]) -> Progress | None:
        """The progress with one more run placed, if any can be."""
        seen: set[int] = set()
        heads: list[int] = []
        others: list[int] = []
        for number in left:
            press = self.base.press[number]
            (others if press in seen else heads).append(number)
            seen.add(press)
        for number in (*heads, *others):
            trial = progress.copy()
            was = self.later[number]
            self.later[number] = max(was, self._not_before_tau(trial, number))
            genes = replace(self.base, order=(*self.order, number), later=tuple(self.later))
            refused = self.decoder.advance(genes, trial, len(genes.order))
            if refused is None and trial.state.placed[number] is not None:
                self.order.append(number)
                return trial
            self.later[number] = was
        return None

    def _not_before_tau(self, progress: Progress, number: int) -> int:
        """Start of the latest run listed before this one on its press: no gap before that one is for this one."""
        before = self.listed[: self.listed.index(number)]
        starts = [
            one.start_tau
            for other in before
            if (one := progress.state.placed[other]) is not None and one.choice.press == self.base.press[number]
        ]
        return max(starts, default=0)


def _given_ways(week: Week, listed: tuple[str, ...], plan: Plan) -> list[str]:
    """Where a press's queue is not in the listed order, and why; one sentence for all that gave way to one run."""
    rank = {run_id: at for at, run_id in enumerate(listed)}
    gave_way: dict[tuple[str, str], list[str]] = {}
    no_frames: list[str] = []
    for press_id, queue in plan.queue.items():
        for at, one in enumerate(queue):
            ahead = [other.run_id for other in queue[:at] if rank[other.run_id] > rank[one.run_id]]
            fixed = [run_id for run_id in (one.run_id, *reversed(ahead)) if _is_fixed(week, run_id)]
            if ahead and fixed and fixed[0] != one.run_id:
                gave_way.setdefault((press_id, fixed[0]), []).append(one.run_id)
            elif ahead:
                no_frames.append(_came_later(week, press_id, one.run_id, ahead[-1]))
    told = [_went_ahead(week, press_id, run_id, others) for (press_id, run_id), others in gave_way.items()]
    return [*told, *no_frames]


def _is_fixed(week: Week, run_id: str) -> bool:
    fixing = week.fixing.get(run_id)
    return fixing is not None and fixing.set_up_start_tau is not None


def _fixed_text(week: Week, run_id: str) -> str:
    """As "4130 front light is locked at Wed 09:00"."""
    fixing = week.fixing[run_id]
    if fixing.kind == "started":
        return f"{run_id} has started"
    return f"{run_id} is {fixing.kind} at {from_text(week, fixing.set_up_start_tau or 0)}"


def _went_ahead(week: Week, press_id: str, run_id: str, others: list[str]) -> str:
    where = press_text(week, press_id)
    if len(others) == 1:
        return f"{_fixed_text(week, run_id)} on {where}: {others[0]}, listed before it, comes after it."
    names = ", ".join(others[:SHOWN]) + (", ..." if len(others) > SHOWN else "")
    return f"{_fixed_text(week, run_id)} on {where}: {len(others)} runs listed before it come after it ({names})."


def _came_later(week: Week, press_id: str, run_id: str, ahead_id: str) -> str:
    where = press_text(week, press_id)
    if _is_fixed(week, run_id):
        return f"{_fixed_text(week, run_id)} on {where}: it comes after {ahead_id}, which is listed later."
    return f"On {where} {run_id} comes after {ahead_id}: there are no coated frames for its screens any earlier."
