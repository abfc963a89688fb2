"""Screen sets of the week's designs, the frames they take, and the frames there are."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from scheduler.domain.shop import BurnedSet, Shop
from scheduler.domain.week import FrameStock, ReclaimBlock, ScreenNote, ScreenSet
from scheduler.errors import Problem
from scheduler.trade.screen_room import burn_minutes, tape_minutes
from scheduler.workload.assumptions import Notes
from scheduler.workload.layers import Layer
from scheduler.workload.runs import RunDraft


def frame_class(size: str, mesh: int) -> str:
    """Id of a frame class: "23x31 156"."""
    return f"{size} {mesh}"


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomStock:
    """Sets, frame stock, and which hanging frames are reclaimed first of all: (block, class, frames)."""

    sets: tuple[ScreenSet, ...] = ()
    frames: tuple[FrameStock, ...] = ()
    early_reclaims: tuple[tuple[str, str, int], ...] = ()


def frame_sizes(drafts: Iterable[RunDraft], shop: Shop) -> tuple[dict[str, str], list[Problem]]:
    """Frame size of each design: typed on the order, remembered with the design, else the shop's default.

    Two sizes typed for one design would be two sets of screens: a fault.
    """
    typed: dict[str, str] = {}
    found: dict[str, str] = {}
    problems: dict[str, Problem] = {}
    for draft in drafts:
        design_id = draft.imprint.design_id
        size = draft.imprint.frame_size
        if size and typed.setdefault(design_id, size).lower() != size.lower():
            problems[design_id] = Problem(
                file="orders.csv",
                row=draft.imprint.source_row,
                column="frame",
                value=size,
                code="two_frame_sizes",
                message=f"design '{design_id}' is asked for in {typed[design_id]} frames too",
                hint="one set of screens has one frame size: name the second design differently",
            )
        remembered = draft.design.frame_size if draft.design else None
        default = shop.screen_room.default_frame if shop.screen_room else ""
        found[design_id] = typed.get(design_id) or remembered or default
    return {design_id: size for design_id, size in found.items() if size}, list(problems.values())


@dataclass(frozen=True, kw_only=True)
class ScreenStore:
    """Works out screen sets and frames for one shop. sizes: frame size by design. on_press: designs on a press now."""

    shop: Shop
    sizes: Mapping[str, str]
    notes: Notes
    on_press: frozenset[str] = frozenset()

    def screens(self, drafts: Iterable[RunDraft]) -> dict[str, list[ScreenNote]]:
        """The screens of each design: the union over its runs, base first, meshes settled."""
        layers: dict[str, dict[str, list[Layer]]] = {}
        for draft in drafts:
            own = layers.setdefault(draft.imprint.design_id, {})
            for layer in draft.layers:
                own.setdefault(layer.screen_id, []).append(layer)
        return {
            design_id: [
                self._note(design_id, screen_id, same)
                for screen_id, same in sorted(own.items(), key=lambda item: _place(item[0]))
            ]
            for design_id, own in layers.items()
        }

    def _note(self, design_id: str, screen_id: str, layers: list[Layer]) -> ScreenNote:
        size = self.sizes[design_id]
        first = next((one for one in layers if one.is_mesh_stated), layers[0])
        mesh = first.mesh if first.is_mesh_stated else self._mesh_in_stock(size, first.mesh)
        return ScreenNote(
            screen_id=screen_id,
            prints=" / ".join(dict.fromkeys(one.prints for one in layers)),
            mesh=mesh,
            frame_size=size,
        )

    def _mesh_in_stock(self, size: str, mesh: int) -> int:
        """An assumed mesh, or the nearest one the shop has on this frame size.

        Nominal counts differ by supplier, so a family is matched, not a number (Atlas Screen Supply, "Choosing the
        right mesh").
        """
        there = {one.mesh for one in self.shop.frames if one.size.lower() == size.lower()}
        return min(there, key=lambda one: (abs(one - mesh), -one)) if there else mesh

    def note_meshes(self, drafts: Iterable[RunDraft]) -> None:
        """Tell which meshes and frame sizes were assumed, by what each screen prints first."""
        drafts = list(drafts)
        chosen = {note.screen_id: note.mesh for notes in self.screens(drafts).values() for note in notes}
        layers: dict[str, list[Layer]] = {}
        for layer in (layer for draft in drafts for layer in draft.layers):
            layers.setdefault(layer.screen_id, []).append(layer)
        for screen_id, same in layers.items():
            if not any(layer.is_mesh_stated for layer in same):
                prints = same[0].prints
                what = prints if same[0].is_base or prints.endswith("white") else "colours"
                self.notes.add("mesh", f"{chosen[screen_id]} mesh assumed for {what}", "screens", where=screen_id)
        for draft in drafts:
            if not draft.imprint.frame_size and not (draft.design and draft.design.frame_size):
                design_id = draft.imprint.design_id
                self.notes.add("frame_size", f"{self.sizes[design_id]} frames assumed", "designs", where=design_id)

    def lacking(self, drafts: Iterable[RunDraft], *, can_coat: bool = True) -> dict[str, str]:
        """Designs whose screens the shop has not got the frames for, with the reason in words.

        Where no coating is held in the planned days, only frames that hang coated count.
        """
        if not self.shop.frames:
            return {}
        stock: Counter[str] = Counter()
        for one in self.shop.frames:
            stock[frame_class(one.size, one.mesh)] += one.count if can_coat else one.coated
        found: dict[str, str] = {}
        for design_id, notes in self.screens(drafts).items():
            if design_id in self.on_press or self._hanging(design_id, len(notes)):
                continue
            for class_id, count in _classes(notes).items():
                if count > stock[class_id]:
                    has = f"the shop has {stock[class_id]}" if stock[class_id] else "the frames list has none"
                    has = has if can_coat else f"{stock[class_id]} hang coated and no coating is held"
                    found.setdefault(design_id, f"needs {count} x {class_id} frames for {design_id}; {has}")
        return found

    def stock(self, drafts: Iterable[RunDraft], blocks: tuple[ReclaimBlock, ...]) -> RoomStock:
        """Sets of these runs' designs, frames left for them, and the hanging sets reclaimed first."""
        drafts = list(drafts)
        self.note_meshes(drafts)
        sets = self.sets(drafts)
        early = self._early(blocks)
        wanted = {class_id for one in sets for class_id, _ in one.frames} | {class_id for _, class_id, _ in early}
        frames = self._listed_frames(sets) if self.shop.frames else self._assumed_frames(sets, drafts)
        known = {one.class_id for one in frames}
        bare = tuple(
            FrameStock(class_id=class_id, name=f"{class_id} mesh", coated_now=0, clean_now=0)
            for class_id in sorted(wanted - known)
        )
        kept = tuple(one for one in frames if one.class_id in wanted)
        return RoomStock(sets=sets, frames=kept + bare, early_reclaims=early)

    def sets(self, drafts: Iterable[RunDraft]) -> tuple[ScreenSet, ...]:
        """One set per design of these runs."""
        return tuple(self._set(design_id, notes) for design_id, notes in self.screens(drafts).items())

    def _set(self, design_id: str, notes: list[ScreenNote]) -> ScreenSet:
        room = self.shop.screen_room
        hanging = self._hanging(design_id, len(notes))
        frames = _classes(notes)
        if hanging and sum(count for _, _, count in hanging.frames) == len(notes):
            frames = _frames_of(hanging)
        is_burned = hanging is not None or design_id in self.on_press
        return ScreenSet(
            set_id=design_id,
            design_id=design_id,
            screen_ids=tuple(note.screen_id for note in notes),
            frames=tuple(sorted(frames.items())),
            burn_min=burn_minutes(
                len(notes),
                per_exposure=room.per_exposure,
                expose_min=room.expose_min,
                wash_out_min=room.wash_out_min,
            )
            if room
            else 0,
            tape_min=tape_minutes(len(notes), room.tape_each_min) if room else 0,
            is_burned_now=is_burned,
            notes=tuple(notes),
        )

    def _hanging(self, design_id: str, screens: int) -> BurnedSet | None:
        """The design's burned set, if all of its screens hang and none is to be reclaimed."""
        for one in self.shop.burned:
            if one.design_id == design_id and not one.to_reclaim:
                count = sum(frames for _, _, frames in one.frames)
                if not one.frames or count >= screens:
                    return one
                text = f"{design_id}: {count} of {screens} screens hang; the whole set is burned anew"
                if not self.notes.has("part_of_a_set", text, "designs"):
                    self.notes.add("part_of_a_set", text, "designs", where=design_id)
        return None

    def _early(self, blocks: tuple[ReclaimBlock, ...]) -> tuple[tuple[str, str, int], ...]:
        """Sets that hang to be reclaimed, put into the first blocks with places left."""
        left = {block.block_id: block.places for block in blocks}
        found: Counter[tuple[str, str]] = Counter()
        for one in self.shop.burned:
            if not one.to_reclaim:
                continue
            for class_id, count in _frames_of(one).items():
                open_count = count
                for block_id, places in left.items():
                    taken = min(places, open_count)
                    if taken:
                        found[block_id, class_id] += taken
                        left[block_id] -= taken
                        open_count -= taken
        return tuple((block_id, class_id, count) for (block_id, class_id), count in found.items())

    def _off_the_rack(self, sets: Iterable[ScreenSet]) -> Counter[str]:
        """Frames that carry an image now: hanging sets as listed, and sets standing on a press that are not listed."""
        taken: Counter[str] = Counter()
        by_id = {one.set_id: one for one in sets}
        listed = {one.design_id for one in self.shop.burned}
        for burned in self.shop.burned:
            if burned.frames:
                taken.update(_frames_of(burned))
            elif burned.design_id in by_id:
                taken.update(dict(by_id[burned.design_id].frames))
        for design_id in self.on_press - listed:
            if design_id in by_id:
                taken.update(dict(by_id[design_id].frames))
        return taken

    def _listed_frames(self, sets: tuple[ScreenSet, ...]) -> tuple[FrameStock, ...]:
        """Listed frames: clean = all - coated - those that carry an image."""
        taken = self._off_the_rack(sets)
        count: Counter[str] = Counter()
        coated: Counter[str] = Counter()
        for one in self.shop.frames:
            count[frame_class(one.size, one.mesh)] += one.count
            coated[frame_class(one.size, one.mesh)] += one.coated
        return tuple(
            FrameStock(
                class_id=class_id,
                name=f"{class_id} mesh",
                coated_now=coated[class_id],
                clean_now=max(0, count[class_id] - coated[class_id] - taken[class_id]),
            )
            for class_id in sorted(count)
        )

    def _assumed_frames(self, sets: tuple[ScreenSet, ...], drafts: list[RunDraft]) -> tuple[FrameStock, ...]:
        """No frames are listed: enough coated ones for every burn there can be."""
        uses = Counter(draft.imprint.design_id for draft in drafts)
        enough: Counter[str] = Counter()
        for one in sets:
            for class_id, count in one.frames:
                enough[class_id] += count * uses[one.design_id]
        if sets:
            text = "enough coated screens assumed, as no frames are listed"
            self.notes.add("frames", text, "screens", count=sum(one.screen_count for one in sets))
        return tuple(
            FrameStock(class_id=class_id, name=f"{class_id} mesh", coated_now=count, clean_now=0)
            for class_id, count in sorted(enough.items())
        )


def stock_problems(shop: Shop) -> list[Problem]:
    """More screens coated or hanging than there are frames of that size and mesh."""
    count: Counter[str] = Counter()
    coated: Counter[str] = Counter()
    hanging: Counter[str] = Counter()
    for one in shop.frames:
        count[frame_class(one.size, one.mesh)] += one.count
        coated[frame_class(one.size, one.mesh)] += one.coated
    for burned in shop.burned:
        hanging.update(_frames_of(burned))
    return [
        Problem(
            file="screens.csv",
            column="screens",
            value=class_id,
            code="too_many_screens",
            message=f"{class_id}: {coated[class_id]} screens coated and {hanging[class_id]} burned, "
            f"of {count[class_id]} frames",
            hint="raise the frame count in shop.toml, or correct what hangs",
        )
        for class_id in sorted(count)
        if coated[class_id] + hanging[class_id] > count[class_id]
    ]


def _classes(notes: Iterable[ScreenNote]) -> dict[str, int]:
    return dict(Counter(frame_class(note.frame_size, note.mesh) for note in notes))


def _frames_of(burned: BurnedSet) -> dict[str, int]:
    found: Counter[str] = Counter()
    for size, mesh, screens in burned.frames:
        found[frame_class(size, mesh)] += screens
    return dict(found)


def _place(screen_id: str) -> tuple[int, int]:
    """The base first, then by number."""
    last = screen_id.rsplit(":", 1)[-1]
    return (0, 0) if last == "base" else (1, int(last))
