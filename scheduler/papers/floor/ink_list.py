"""How much of each ink the week takes and by when it must be there, with the sum behind every figure."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime

from scheduler.domain.plan import PlannedRun
from scheduler.domain.week import StackHead
from scheduler.papers.cautions import CHEMICALS, DISCHARGE, WHO_WINS
from scheduler.papers.floor.ground import Ground
from scheduler.papers.floor.sheet import Sheet, Table
from scheduler.trade.weave import SOURCE, ink_of_screen_cm3, usual_weave

MIXED = re.compile(r"\b(pms|pantone|mix(ed)?)\b|\b\d{3,4}\s*[cu]\b", re.I)
"""Names of inks that are mixed to a number. Inks that go off are mixed batch by batch."""

EXPLAINED = (
    f"{SOURCE[:1].upper()}{SOURCE[1:]}. Meshes are taken as usually woven; the maker's figure wins.",
    "All ink is taken to leave the mesh; what stays in screens, on squeegees and in cans comes on top.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class InkUse:
    """One screen of one run, and the ink it takes. by_when: its cart is put together then, or set-up starts.

    weave: where the mesh's ink volume comes from, in words.
    """

    ink_id: str
    by_when: datetime
    run_id: str
    press_name: str
    prints: str
    width_in: float
    height_in: float
    coverage_pct: float
    mesh: int
    ink_cm3_m2: float
    weave: str
    hits: int
    pieces: int
    cm3: float


def ink_uses(ground: Ground) -> tuple[InkUse, ...]:
    """Every screen that takes ink, first needed first; pencilled runs are left out: nobody mixes for them yet."""
    found = [use for planned in ground.plan.runs for use in _of_run(ground, planned)]
    return tuple(sorted(found, key=lambda use: (use.by_when, use.run_id, use.ink_id)))


def _of_run(ground: Ground, planned: PlannedRun) -> list[InkUse]:
    week, run, choice = ground.week, ground.week.run[planned.run_id], ground.choice(planned)
    imprint, shop = ground.imprint(run), ground.inputs.shop
    coverage = imprint.coverage_pct if imprint else None
    notes = week.screen_set[run.set_id].notes if run.set_id in week.screen_set else ()
    of_screen = {note.screen_id: note for note in notes}
    width = (imprint and imprint.width_in) or shop.defaults.print_width_in
    height = (imprint and imprint.height_in) or shop.defaults.print_height_in

    def use(head: StackHead) -> InkUse:
        note = of_screen.get(head.screen_id)
        size = {
            "width_in": width,
            "height_in": height,
            "coverage_pct": shop.paper.coverage_pct if coverage is None else coverage,
        }
        mesh = (note.mesh if note else 0) or shop.defaults.mesh_colour
        volume, weave = _volume(ground, mesh)
        return InkUse(
            ink_id=head.ink_id,
            by_when=week.clock.starts_at(min(planned.stage_start_tau, planned.set_up_start_tau)),
            run_id=run.run_id,
            press_name=week.press[planned.press_id].name,
            prints=note.prints if note else week.ink[head.ink_id].name,
            mesh=mesh,
            ink_cm3_m2=volume,
            weave=weave,
            hits=head.hits,
            pieces=run.pieces,
            cm3=ink_of_screen_cm3(**size, ink_cm3_m2=volume, hits=head.hits, pieces=run.pieces),
            **size,
        )

    return [use(head) for head in choice.stack.heads]


def ink_sheets(ground: Ground) -> tuple[Sheet, ...]:
    """Ink per colour with its "by when", then the sum behind each figure."""
    uses = ink_uses(ground)
    if not uses:
        return ()
    has_discharge = any("discharge" in ground.week.ink[use.ink_id].family.lower() for use in uses)
    return (
        Sheet(
            title="Ink for the week",
            said=(*EXPLAINED, *_taken(ground)),
            tables=(_totals(ground, uses), _sums(ground, uses)),
            cautions=(WHO_WINS, CHEMICALS, *([DISCHARGE] if has_discharge else [])),
        ),
    )


def _taken(ground: Ground) -> tuple[str, ...]:
    """What nobody typed, in one sentence: sizes and coverage of how many prints; none where all is told."""
    prints = {ground.imprint(ground.week.run[planned.run_id]) for planned in ground.plan.runs}
    typed = [one for one in prints if one is not None]
    defaults, paper = ground.inputs.shop.defaults, ground.inputs.shop.paper
    no_size = sum(one.width_in is None or one.height_in is None for one in typed)
    no_cover = sum(one.coverage_pct is None for one in typed)
    size = ground.units.print_size(defaults.print_width_in, defaults.print_height_in)
    told = [
        *([f"{no_size} of {len(typed)} prints have no size: {size} is taken"] if no_size else []),
        *([f"{no_cover} have no coverage: {paper.coverage_pct:g} % is taken"] if no_cover else []),
    ]
    return (f"{'; '.join(told)}.",) if told else ()


def is_mixed(name: str, family: str) -> bool:
    """True for an ink that somebody has to mix: to a colour number, or because it goes off once mixed."""
    return MIXED.search(name) is not None or "discharge" in family.lower()


def _totals(ground: Ground, uses: tuple[InkUse, ...]) -> Table:
    rows = []
    batches = {row.run_id: row.batches for row in ground.queue}
    for ink_id in dict.fromkeys(use.ink_id for use in uses):
        own, ink = [use for use in uses if use.ink_id == ink_id], ground.week.ink[ink_id]
        told = [batches[use.run_id] for use in own if batches[use.run_id]] if ink.pot_life_min is not None else []
        note = "\n".join(dict.fromkeys(told)) or "mix by then"
        rows.append(
            (
                own[0].by_when,
                ink.name,
                ink.family,
                ground.units.ink(sum(use.cm3 for use in own)),
                len({use.run_id for use in own}),
                note if told or is_mixed(ink.name, ink.family) else "",
            )
        )
    return Table(
        kind="ink per colour",
        title="Per colour",
        headings=("by when", "ink", "family", "in all", "runs", "to know"),
        rows=tuple(rows),
        widths=((0, 34), (3, 37), (4, 13)),
        right=frozenset({4}),
        bold=frozenset({0, 3}),
    )


def _sums(ground: Ground, uses: tuple[InkUse, ...]) -> Table:
    return Table(
        kind="ink per run",
        title="Run by run",
        headings=("by when", "ink", "run", "size x coverage x mesh x hits x pieces", "ink"),
        rows=tuple(
            (
                use.by_when,
                use.prints,
                f"{use.run_id}, {use.press_name}",
                _sum_text(ground, use),
                ground.units.ink(use.cm3),
            )
            for use in uses
        ),
        widths=((0, 34), (1, 23), (2, 32), (4, 38)),
        has_box=False,
    )


def _volume(ground: Ground, mesh: int) -> tuple[float, str]:
    """Ink a mesh lays down, and in words where that comes from: its maker's sheet, else its usual weave."""
    told = [one.ink_cm3_m2 for one in ground.inputs.shop.frames if one.mesh == mesh and one.ink_cm3_m2 is not None]
    if told:
        return told[0], "maker's sheet"
    weave = usual_weave(mesh)
    return weave.ink_cm3_m2, f"{weave.thread_um} µm thread"


def _sum_text(ground: Ground, use: InkUse) -> str:
    hits = f" x {use.hits} hits" if use.hits > 1 else ""
    return (
        f"{ground.units.print_size(use.width_in, use.height_in)} x {use.coverage_pct:g} % x {use.mesh} mesh "
        f"({use.weave}, {use.ink_cm3_m2:.1f} cm³/m²){hits} x {use.pieces}"
    )
