"""What changes on a press from one run to the next, told as an operator would be told at the press."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass

from scheduler.domain.week import Fixing, PressChoice, PressLine, ScreenNote, ScreenSet
from scheduler.papers.heads import Placing
from scheduler.papers.words import counted, listed
from scheduler.trade.set_up import Inks, SetUpPair, returning_inks


@dataclass(frozen=True, slots=True, kw_only=True)
class HeadLine:
    """One head of a run: its number from 1, the screen (what it prints, mesh in threads per inch, frame), the ink,
    how many hits, and what is done to it in this set-up.
    """

    head: int
    screen_id: str
    prints: str
    ink: str
    mesh: int | None
    frame: str
    hits: int
    to_do: str


def head_lines(
    before: Placing,
    now: Placing,
    pair: SetUpPair,
    screen_set: ScreenSet | None,
    inks: Inks,
    kept_before: Collection[str],
) -> tuple[HeadLine, ...]:
    """The heads of a run in print order, each with what the set-up does to it."""
    notes = {note.screen_id: note for note in screen_set.notes} if screen_set else {}
    of_new = {new: old for old, new in pair.matched}
    back = set(returning_inks(now.stack, kept_before))
    stood_by = dict(before.of_kept)
    found = []
    for index, (one, head) in enumerate(zip(now.stack.heads, now.of_screen, strict=True)):
        note = notes.get(one.screen_id, ScreenNote(screen_id=one.screen_id, prints="", mesh=0, frame_size=""))
        old = of_new.get(index)
        to_do = _to_do(before, now, index, old, inks)
        if to_do.endswith("load") and one.ink_id in back:
            back.discard(one.ink_id)
            to_do = to_do.removesuffix("load") + _taken_up(stood_by[one.ink_id], head)
        found.append(
            HeadLine(
                head=head,
                screen_id=one.screen_id,
                prints=note.prints or inks[one.ink_id].name,
                ink=inks[one.ink_id].name,
                mesh=note.mesh or None,
                frame=note.frame_size,
                hits=one.hits,
                to_do=to_do,
            )
        )
    return tuple(found)


def _to_do(before: Placing, now: Placing, index: int, old: int | None, inks: Inks) -> str:
    """What the set-up does to one head: stays, mount, card over, load."""
    new_head = now.stack.heads[index]
    if old is None:
        return "mount, load"
    old_head, at, stood = before.stack.heads[old], now.of_screen[index], before.of_screen[old]
    moved = "" if at == stood else f" (from head {stood})"
    is_same_ink = old_head.ink_id == new_head.ink_id and not inks[old_head.ink_id].dries
    if old_head.screen_id != new_head.screen_id:
        return f"mount, card over{moved}"
    if is_same_ink:
        return f"stays{moved}"
    return f"screen stays{moved}, load"


def _taken_up(stood_at: int, head: int) -> str:
    """An ink that stood by is carded into the screen that comes to its head."""
    return "card over" if stood_at == head else f"card over (from head {stood_at})"


def changes(
    press: PressLine,
    choice: PressChoice,
    before: Placing,
    now: Placing,
    pair: SetUpPair,
    inks: Inks,
    fixing: Fixing | None = None,
) -> tuple[str, ...]:
    """What the set-up does against the run before, in the order in which it is done.

    A started run and a stated set-up say where their minutes come from; what has to be done is listed all the same.
    """
    if fixing is not None and fixing.kind == "started":
        return ("what is left of it" if fixing.set_up_left_min else "done: the run has started",)
    kept_before = {ink_id for ink_id, _ in before.of_kept}
    kept_now = {ink_id for ink_id, _ in now.of_kept}
    back = returning_inks(now.stack, kept_before)
    gone = _leaving(before, now, pair, inks, kept_before, kept_now)
    told = [f"{_gone_verb(press)} {listed(gone)}"] if gone else []
    if pair.mounts:
        told.append(f"mount {counted(pair.mounts, 'screen')}")
    if pair.cards:
        told.append(f"card over {listed(_carded(now, pair, before, inks))}")
    stood_by = dict(before.of_kept)
    told += [f"take up {inks[ink_id].name} again (it stood by on head {stood_by[ink_id]})" for ink_id in sorted(back)]
    loads = Counter(dict(pair.loads))
    loads.subtract(back)
    loaded = [_times(inks[ink_id].name, heads) for ink_id, heads in sorted(loads.items()) if heads > 0]
    if loaded:
        told.append(f"load {listed(loaded)}")
    if choice.stack.pallet and before.stack.pallet and choice.stack.pallet != before.stack.pallet:
        told.append(f"swap pallets: {before.stack.pallet} to {choice.stack.pallet}")
    told += [f"set a flash after head {head}" for head in _new_flashes(before, now)]
    if pair.strike_off_min:
        told.append("test print")
    if choice.set_up_extra_min:
        told.append("client approves at the press")
    if choice.stated_set_up_min is not None:
        told.append(f"the shop's own {choice.stated_set_up_min} min count for this set-up")
    return tuple(told) or ("nothing: straight on",)


def _gone_verb(press: PressLine) -> str:
    """Inks are swapped out where a spare squeegee and floodbar exist, else cleaned on the press."""
    return "swap out" if press.set_up.swap_min is not None else "clean out"


def _leaving(
    before: Placing, now: Placing, pair: SetUpPair, inks: Inks, kept_before: set[str], kept_now: set[str]
) -> list[str]:
    """Inks that leave the press, each with the heads it leaves."""
    wanted = {head.ink_id for head in now.stack.heads}
    leaves = Counter(dict(pair.leaves))
    leaves.subtract(kept_now - kept_before)
    leaves.update(kept_before - kept_now - wanted)
    stays = {old for old, new in pair.matched if before.stack.heads[old].ink_id == now.stack.heads[new].ink_id}
    found = []
    for ink_id, count in sorted(leaves.items()):
        if count <= 0:
            continue
        at = [head for kept, head in before.of_kept if kept == ink_id]
        at += [
            head
            for index, (one, head) in enumerate(zip(before.stack.heads, before.of_screen, strict=True))
            if one.ink_id == ink_id and index not in stays and head not in dict(now.of_kept).values()
        ]
        found.append(f"{inks[ink_id].name}{_in_heads(sorted(at)[:count])}")
    return found


def _in_heads(heads: list[int]) -> str:
    """Heads in brackets: " (head 1)", " (heads 1 and 3)", "" for none."""
    if not heads:
        return ""
    return f" ({'head' if len(heads) == 1 else 'heads'} {listed([str(head) for head in heads])})"


def _carded(now: Placing, pair: SetUpPair, before: Placing, inks: Inks) -> list[str]:
    """Inks that are carded into another screen, each with its heads."""
    heads: dict[str, list[int]] = {}
    for old, new in pair.matched:
        if before.stack.heads[old].screen_id != now.stack.heads[new].screen_id:
            heads.setdefault(inks[now.stack.heads[new].ink_id].name, []).append(now.of_screen[new])
    return [f"{name}{_in_heads(at)}" for name, at in heads.items()]


def _new_flashes(before: Placing, now: Placing) -> list[int]:
    """Heads after which a flash stands that did not stand there before."""
    return [
        now.of_screen[index]
        for index in sorted(set(now.stack.flash_after) - set(before.stack.flash_after))
        if index < len(now.of_screen)
    ]


def _times(name: str, count: int) -> str:
    return name if count == 1 else f"{name} ({count} heads)"


def flash_text(now: Placing, pool_id: str | None = None) -> str:
    """Where the flashes stand, and whose they are: "after head 1", "after heads 1 and 3, shared (wheels)", ""."""
    heads = [str(now.of_screen[index]) for index in sorted(set(now.stack.flash_after)) if index < len(now.of_screen)]
    shared = f", shared ({pool_id})" if pool_id is not None else ""
    return f"after {'head' if len(heads) == 1 else 'heads'} {listed(heads)}{shared}" if heads else ""
