"""Which presses a run fits, and why not, in the words a printer would use."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from scheduler.domain.shop import Press
from scheduler.domain.week import DryerSetting, PressChoice, Way
from scheduler.trade.pot_life import mixing_minutes
from scheduler.trade.press_rate import heads_needed
from scheduler.workload.dryer_settings import Curing
from scheduler.workload.inks import pot_life
from scheduler.workload.layers import stack_of
from scheduler.workload.print_labour import with_print_cents
from scheduler.workload.rates import FULL_RATE_PERMILLE, MANUAL, SLOWER_PERMILLE, Pace, PrintTime
from scheduler.workload.runs import RunDraft


def flash_takes(press: Press) -> tuple[str, ...]:
    """What takes a head of its own after each flash: the flash itself, a cool-down, both or, on a manual, nothing."""
    if press.kind == MANUAL:
        return ()
    flash = ("flash",) if press.flash_place == "in a head" else ()
    return (*flash, "cool-down") if press.cool_down_head else flash


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """Why a run does not fit a press. needs, has: the sentence in two halves; by: how far off, for the nearest miss."""

    code: str
    needs: str
    has: str
    by: float = 0.0

    @property
    def text(self) -> str:
        """The whole sentence."""
        return f"{self.needs}; {self.has}" if self.has else self.needs


@dataclass(frozen=True, slots=True, kw_only=True)
class PrintSize:
    """The print's size and its screens' frame size, and whether somebody typed them."""

    width_in: float
    height_in: float
    frame_size: str | None
    is_typed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitting:
    """Fits runs to presses. frame_sizes: by design."""

    pace: Pace
    presses: tuple[Press, ...]
    frame_sizes: Mapping[str, str]
    curing: Curing | None = None

    def cure_tunnel_s(self, draft: RunDraft) -> int:
        """The longest a garment of the run may be in a tunnel: at the slowest setting that serves it."""
        options = [one.tunnel_s for press in self.presses if self.curing for one in self.curing.options(draft, press)]
        return max([self.pace.tunnel_s(draft.layers), *options])

    def size_of(self, draft: RunDraft) -> PrintSize:
        """Print and frame size: the order's, the design's, else the shop's default."""
        imprint, design, shop = draft.imprint, draft.design, self.pace.shelf.shop
        width = imprint.width_in or (design.width_in if design else None)
        height = imprint.height_in or (design.height_in if design else None)
        return PrintSize(
            width_in=width or shop.defaults.print_width_in,
            height_in=height or shop.defaults.print_height_in,
            frame_size=self.frame_sizes.get(imprint.design_id),
            is_typed=width is not None and height is not None,
        )

    def choices(self, draft: RunDraft) -> tuple[PressChoice, ...]:
        """The presses the run fits."""
        fitting = [press for press in self.presses if not self.refusals(draft, press)]
        return with_print_cents(
            tuple(self.choice(draft, press) for press in fitting),
            {press.press_id: self.pace.shelf.shop.money.crew_cents_per_min(press.run_crew) for press in fitting},
        )

    def choice(self, draft: RunDraft, press: Press, time: PrintTime | None = None) -> PressChoice:
        """The run on this press, whether it fits or not (a started run is where it is)."""
        settings = self.curing.options(draft, press) if self.curing is not None else ()
        first = settings[0] if settings else None
        tunnel_s = first.tunnel_s if first is not None else None
        known = self.pace.print_time(draft, press, tunnel_s=tunnel_s) if time is None else time
        layers = draft.layers
        drying = [one for one in layers if one.ink.dries]
        design = draft.design
        stated = draft.imprint.stated_set_up_min
        if stated is None and design is not None:
            stated = design.actual_set_up_min
        preferred = draft.imprint.preferred or (design.preferred if design else ())
        return PressChoice(
            press_id=press.press_id,
            stack=stack_of(layers, draft.imprint.design_id, draft.imprint.pallet),
            heads_needed=self.heads(draft, press),
            print_min=known.print_min,
            part_min=known.part_min,
            rate_pcs_h=known.rate_pcs_h,
            wash_up_min=sum(press.set_up.leave_min(one.ink) for one in drying),
            set_up_extra_min=press.approval_min if draft.imprint.approval_at_press else 0,
            belt_permille=known.belt_permille,
            stated_set_up_min=stated,
            is_preferred=press.press_id in preferred,
            slowed_to_pcs_h=known.slowed_to_pcs_h,
            setting_id=first.setting_id if first is not None else None,
            other_ways=self.other_ways(draft, press, known, settings),
            flash_units=self.flashes(draft, press) if press.flash_pool is not None else 0,
            re_ink_min=press.set_up.load_min * len(drying),
            mixing_min=_mixing_min(draft, known.print_min),
        )

    @staticmethod
    def flashes(draft: RunDraft, press: Press) -> int:
        """Flashes the run needs here at once. A manual swings one over whichever pallet is printed."""
        places = sum(one.flash_after for one in draft.layers)
        return min(places, 1) if press.kind == MANUAL else places

    def other_ways(
        self, draft: RunDraft, press: Press, full: PrintTime, settings: Sequence[DryerSetting]
    ) -> tuple[Way, ...]:
        """The run at three quarters and at half its rate, where presses share its dryer, and at its other settings."""
        sharing = [one for one in self.presses if one.dryer_id is not None and one.dryer_id == press.dryer_id]
        steps = SLOWER_PERMILLE if len(sharing) > 1 and full.belt_permille else ()
        times: list[tuple[int, DryerSetting | None, PrintTime]] = []
        for number, setting in enumerate(settings or (None,)):
            tunnel_s = setting.tunnel_s if setting is not None else None
            fastest = self.pace.print_time(draft, press, tunnel_s=tunnel_s) if number else full
            if number:
                times.append((FULL_RATE_PERMILLE, setting, fastest))
            slower = [(step, self.pace.print_time(draft, press, step, tunnel_s)) for step in steps]
            times += [(step, setting, time) for step, time in slower if time.belt_permille < fastest.belt_permille]
        ways = [
            Way(
                print_min=time.print_min,
                part_min=time.part_min,
                rate_pcs_h=time.rate_pcs_h,
                belt_permille=time.belt_permille,
                step_permille=step,
                setting_id=setting.setting_id if setting is not None else None,
                mixing_min=_mixing_min(draft, time.print_min),
            )
            for step, setting, time in times
        ]
        return tuple(sorted(ways, key=lambda way: (way.print_min, way.belt_permille)))

    @staticmethod
    def heads(draft: RunDraft, press: Press) -> int:
        """Heads the run takes here, flashes in heads and cool-down heads included. On a manual a flash takes none."""
        flashes, takes = sum(one.flash_after for one in draft.layers), flash_takes(press)
        return heads_needed(
            len(draft.layers), flashes, flash_in_head="flash" in takes, cool_down_head="cool-down" in takes
        )

    def refusals(self, draft: RunDraft, press: Press) -> tuple[Refusal, ...]:
        """Everything that keeps the run off this press."""
        found = [*self._by_order(draft, press), *self._by_heads(draft, press), *self._by_size(draft, press)]
        found.extend(self._by_kind(draft, press))
        return tuple(found)

    @staticmethod
    def _by_order(draft: RunDraft, press: Press) -> Iterable[Refusal]:
        imprint = draft.imprint
        if press.press_id in imprint.never:
            yield Refusal(code="never", needs=f"the order says not {press.name}", has="")
        elif imprint.presses and press.press_id not in imprint.presses:
            yield Refusal(code="not allowed", needs=f"the order allows only {', '.join(imprint.presses)}", has="")

    def _by_heads(self, draft: RunDraft, press: Press) -> Iterable[Refusal]:
        needed = self.heads(draft, press)
        if needed > press.heads:
            yield Refusal(
                code="heads",
                needs=f"needs {needed} heads: {_heads_in_words(draft, press)}",
                has=f"{press.name} has {press.heads}",
                by=needed - press.heads,
            )
        wanted = self.flashes(draft, press)
        if wanted > press.flashes:
            yield Refusal(
                code="flashes",
                needs=f"needs {_count(wanted, 'flash', 'flashes')}",
                has=f"{press.name} has {press.flashes}",
                by=wanted - press.flashes,
            )
            return
        units = next((one.units for one in self.pace.shelf.shop.flash_pools if one.pool_id == press.flash_pool), wanted)
        if wanted > units:
            yield Refusal(
                code="flash pool",
                needs=f"needs {_count(wanted, 'flash', 'flashes')}",
                has=f"{press.name} shares {_count(units, 'flash', 'flashes')} on wheels",
                by=wanted - units,
            )

    def _by_size(self, draft: RunDraft, press: Press) -> Iterable[Refusal]:
        size = self.size_of(draft)
        over = (
            size.width_in - (press.max_width_in or size.width_in),
            size.height_in - (press.max_height_in or size.height_in),
        )
        if max(over) > 0:
            assumed = "" if size.is_typed else " (assumed)"
            most = [f"{one:g}" if one else "any" for one in (press.max_width_in, press.max_height_in)]
            yield Refusal(
                code="print size",
                needs=f"a print of {size.width_in:g} x {size.height_in:g} in{assumed}",
                has=f"{press.name} takes at most {most[0]} x {most[1]} in",
                by=max(over),
            )
        frame = size.frame_size
        if frame and press.frame_sizes and frame.lower() not in {one.lower() for one in press.frame_sizes}:
            yield Refusal(
                code="frame",
                needs=f"needs {frame} frames",
                has=f"{press.name} takes {', '.join(press.frame_sizes)}",
            )

    @staticmethod
    def _by_kind(draft: RunDraft, press: Press) -> Iterable[Refusal]:
        pallet = draft.imprint.pallet
        if pallet and press.pallets and pallet.lower() not in {one.lower() for one in press.pallets}:
            yield Refusal(
                code="pallet",
                needs=f"needs {pallet} pallets",
                has=f"{press.name} has {', '.join(press.pallets)}",
            )
        families = dict.fromkeys(one.ink.family for one in draft.layers)
        wrong = [name for name in families if name.lower() not in {one.lower() for one in press.families}]
        if press.families and wrong:
            yield Refusal(
                code="family",
                needs=f"{' and '.join(wrong)} ink",
                has=f"{press.name} prints {', '.join(press.families)} only",
            )

    def why_none(self, draft: RunDraft) -> tuple[str, ...]:
        """Why no press fits, the smallest clash first; one sentence where all allowed presses fail alike.

        Presses the order itself rules out are only spoken of if the order rules out all of them.
        """
        told = {press.press_id: self.refusals(draft, press) for press in self.presses}
        asked = [p for p in self.presses if not _is_ruled_out(told[p.press_id])]
        if not asked:
            return tuple(dict.fromkeys(told[press.press_id][0].text for press in self.presses))
        if alike := _one_sentence([told[press.press_id] for press in asked], asked):
            return (alike,)
        near = sorted(asked, key=lambda press: (len(told[press.press_id]), _furthest(told[press.press_id])))
        return tuple(dict.fromkeys(" and ".join(one.text for one in told[press.press_id]) for press in near))


def _mixing_min(draft: RunDraft, print_min: int) -> int:
    """Press minutes to mix the run's further batches, where its inks go off."""
    life_min, remix_min = pot_life(one.ink for one in draft.layers)
    return mixing_minutes(print_min, pot_life_min=life_min, remix_min=remix_min)


def _one_sentence(refusals: Sequence[Sequence[Refusal]], presses: Sequence[Press]) -> str | None:
    """One sentence for several presses that all refuse for want of the same number of heads, or of flashes."""
    needs = {tuple((one.code, one.needs) for one in found) for found in refusals}
    if len(presses) < 2 or len(needs) != 1 or len(refusals[0]) != 1:
        return None
    only = refusals[0][0]
    if only.code == "heads":
        return f"{only.needs}; the largest press has {max(press.heads for press in presses)}"
    if only.code == "flashes":
        return f"{only.needs}; no press has more than {max(press.flashes for press in presses)}"
    return None


def _is_ruled_out(refusals: Sequence[Refusal]) -> bool:
    return any(one.code in ("never", "not allowed") for one in refusals)


def _furthest(refusals: Sequence[Refusal]) -> float:
    return max((one.by for one in refusals), default=0.0)


def _heads_in_words(draft: RunDraft, press: Press) -> str:
    """What the heads are for: "6 inks, underbase, 2 flashes, 2 cool-downs"."""
    bases = sum(one.is_base for one in draft.layers)
    words = [_count(len(draft.layers) - bases, "ink", "inks")]
    if bases:
        words.append("underbase")
    flashes, takes = sum(one.flash_after for one in draft.layers), flash_takes(press)
    if flashes and "flash" in takes:
        words.append(_count(flashes, "flash", "flashes"))
    if flashes and "cool-down" in takes:
        words.append(_count(flashes, "cool-down", "cool-downs"))
    return ", ".join(words)


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"
