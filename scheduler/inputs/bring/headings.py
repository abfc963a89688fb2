"""Which row of the shop's own sheet holds the headings, and which heading of ours each of theirs stands for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher, get_close_matches

from scheduler.inputs.bring.cell_words import Fits
from scheduler.inputs.bring.own_sheet import OwnSheet
from scheduler.inputs.bring.trade_words import GARMENT_COLOUR, NOT_READ, SIZES, WORDS, targets_by_word, word_key

ROWS_LOOKED_AT = 10
LEAST_HEADINGS = 2
"""Headings that must be known for a row to be taken for the headings."""

SIZE = "size:"
"""Target of a column that holds the pieces of one size, followed by the size as they write it."""

NEAR, VERY_NEAR = 0.82, 0.9
"""Likeness of two words, 0 to 1, from which one may be, and from which it surely is, a slip of the other."""

SAMPLE = 60
"""Rows whose cells are looked at."""

LEAST_FIT, GOOD_FIT = 0.3, 0.6
"""Share of a column's cells that must look like what its heading says; and that tells where the heading does not."""

LEAST_CELLS = 3
"""Filled cells below which a plain heading is believed whatever they look like."""

UNTOLD_FIT = 0.4
"""What a heading counts whose cells do not tell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Match:
    """One heading of theirs. ours: what it stands for, "" for nothing; candidates: what it may be where it is unsure.

    is_told: somebody said so, now or earlier.
    """

    column: int
    their: str
    ours: str = ""
    is_sure: bool = True
    candidates: tuple[str, ...] = ()
    is_told: bool = False
    rank: int = 0


def heading_row(sheet: OwnSheet, known: Mapping[str, str]) -> int | None:
    """The place (from 0) of the headings among the sheet's first filled rows; None if none of them looks like headings.

    known: their headings, by key, that were matched before.
    """
    words = {*targets_by_word(), *known}
    counts = [
        len({word_key(cell) for cell in cells if word_key(cell) in words} | _sizes(cells))
        for _, cells in sheet.rows[:ROWS_LOOKED_AT]
    ]
    best = max(counts, default=0)
    return counts.index(best) if best >= LEAST_HEADINGS else None


def _sizes(cells: Iterable[str]) -> set[str]:
    found = {word_key(cell) for cell in cells if word_key(cell) in SIZES}
    return found if len(found) > 1 else set()


def matched(
    headings: Sequence[str], columns: Sequence[Sequence[str]], known: Mapping[str, str], fits: Mapping[str, Fits]
) -> tuple[Match, ...]:
    """What each heading stands for, as far as it is sure. columns: their filled cells. known: told before, by key."""
    has_sizes = bool(_sizes(headings))
    found = [
        _match(number, their, list(columns[number])[:SAMPLE], known, fits, has_sizes=has_sizes)
        for number, their in enumerate(headings)
        if their.strip()
    ]
    return tuple(_settled(_without_twice(found)))


def _match(
    column: int,
    their: str,
    cells: Sequence[str],
    known: Mapping[str, str],
    fits: Mapping[str, Fits],
    *,
    has_sizes: bool,
) -> Match:
    key = word_key(their)
    if key in known:
        return Match(column=column, their=their, ours=known[key], is_told=True)
    if has_sizes and key in SIZES:
        return Match(column=column, their=their, ours=f"{SIZE}{their.strip()}")
    targets, likeness = _targets(key)
    if not targets:
        return Match(column=column, their=their)
    shares = {target: _share(cells, fits.get(target)) for target in targets}
    ordered = sorted(targets, key=lambda target: -(UNTOLD_FIT if shares[target] is None else shares[target] or 0.0))
    best = ordered[0]
    share = shares[best]
    if not cells:
        best, is_sure = targets[0], likeness == 1.0
    elif len(targets) == 1:
        is_sure = likeness >= VERY_NEAR and (share is None or share >= LEAST_FIT or len(cells) < LEAST_CELLS)
    else:
        next_share = shares[ordered[1]]
        rest = UNTOLD_FIT if next_share is None else next_share
        is_sure = likeness >= VERY_NEAR and share is not None and share >= GOOD_FIT and share - rest >= 0.2
        if likeness >= VERY_NEAR and NOT_READ in targets and all(one in (None, 0.0) for one in shares.values()):
            best, is_sure = NOT_READ, True
    if is_sure:
        rank = 0 if best == key else 1 + _rank(best, key)
        return Match(column=column, their=their, ours="" if best == NOT_READ else best, rank=rank)
    candidates = tuple(target for target in ordered if target != NOT_READ)
    return Match(column=column, their=their, is_sure=not candidates, candidates=candidates)


def _targets(key: str) -> tuple[tuple[str, ...], float]:
    """What a heading may stand for, and how alike it is to the word that says so."""
    words = targets_by_word()
    if key in words:
        return words[key], 1.0
    near = get_close_matches(key, list(words), n=3, cutoff=NEAR) if len(key) > 3 else []
    if near:
        likeness = SequenceMatcher(None, key, near[0]).ratio()
        return tuple(dict.fromkeys(target for word in near[:1] for target in words[word])), likeness
    parts = key.split("_")
    inside = [word for word in words if len(word) > 2 and _stands_in(word.split("_"), parts)]
    longest = max((len(word) for word in inside), default=0)
    return tuple(dict.fromkeys(t for word in inside if len(word) == longest for t in words[word])), 0.5


def _stands_in(word: Sequence[str], parts: Sequence[str]) -> bool:
    return any(list(parts[start : start + len(word)]) == list(word) for start in range(len(parts) - len(word) + 1))


def _rank(target: str, key: str) -> int:
    """How clearly a word stands for a heading: its place in our list."""
    keys = [word_key(word) for word in WORDS.get(target, ())]
    return keys.index(key) if key in keys else len(keys)


def _share(cells: Sequence[str], looks: Fits | None) -> float | None:
    """Share of cells that look like it; None where that cannot be told from cells."""
    if looks is None or not cells:
        return None
    return sum(1 for cell in cells if looks(cell)) / len(cells)


def _without_twice(found: list[Match]) -> list[Match]:
    """One column for each heading of ours: the clearest. Two dates of the same clearness are left to be asked about."""
    by_ours: dict[str, list[Match]] = {}
    for one in found:
        if one.ours and one.is_sure:
            by_ours.setdefault(one.ours, []).append(one)
    changed: dict[int, Match] = {}
    for ours, rivals in by_ours.items():
        rivals.sort(key=lambda one: (not one.is_told, one.rank, one.column))
        if ours == "due" and len(rivals) > 1 and any(word_key(one.their) == "date" for one in rivals):
            # Beside a due date a mere "Date" is the day on which the order came in.
            bare = [one for one in rivals if word_key(one.their) == "date" and not one.is_told]
            changed |= {one.column: replace(one, ours="") for one in bare}
            rivals = [one for one in rivals if one not in bare]
        if len(rivals) < 2:
            continue
        first, rest = rivals[0], rivals[1:]
        if ours == "due" and not first.is_told and first.rank:
            # A due date and a ship date mean two things, and which one must be kept nobody but the shop can say.
            for one in rivals:
                changed[one.column] = replace(one, ours="", is_sure=False, candidates=(ours,))
        else:
            for one in rest:
                changed[one.column] = replace(one, ours="", is_told=False)
    return [changed.get(one.column, one) for one in found]


def _settled(found: list[Match]) -> list[Match]:
    """Unsure headings without what is taken surely elsewhere; one that has a single meaning left is sure of it."""
    taken = {one.ours for one in found if one.ours}
    settled = []
    for one in found:
        left = tuple(name for name in one.candidates if name not in taken)
        if one.is_sure or left == one.candidates:
            settled.append(one)
        elif left == (GARMENT_COLOUR,) or (left == ("inks",) and GARMENT_COLOUR in one.candidates):
            settled.append(replace(one, ours=left[0], is_sure=True, candidates=()))
        else:
            settled.append(replace(one, candidates=left, is_sure=not left))
    return settled
