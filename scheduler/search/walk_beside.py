"""A second walk in a process of its own: what it finds is heard as it comes, and it sets out again when told to.

It has its own decoder and its own luck. Whoever leads the search tells it where to set out from and for how long; it
answers with genes and their cost. A process that was killed or found no memory says no more, and nothing is lost.
"""

from __future__ import annotations

import multiprocessing
import signal
from dataclasses import dataclass
from multiprocessing.connection import Connection
from time import monotonic

from scheduler.domain.week import Week
from scheduler.search.decoder import Decoded, Decoder, Refused
from scheduler.search.genome import Genes
from scheduler.search.local import Annealing, Best, Timed
from scheduler.search.stretch_walk import StretchWalk

HEAR_EVERY_S = 0.05
"""Seconds between two looks at what the other process has said."""
SAY_EVERY_S = 0.3
"""Least seconds between two better plans that are said."""
MOST_UNHEARD = 8
"""Rounds that may be asked for without an answer: a process that stands still must not hold up who leads."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SetOut:
    """One round of a walk: whence, with which seed, for how many seconds.

    gone: share of the whole walk's time that is over when it sets out. part: places [from, to) of the order that are
    walked in stretches; None for a walk of all runs.
    """

    genes: Genes
    seed: int
    seconds: float
    gone: float = 0.0
    part: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Found:
    """Genes and what they cost in cents; None where a round was taken up."""

    genes: Genes | None
    cost_cents: int = 0


class WalkBeside:
    """A walk in a process of its own, led through a pipe."""

    def __init__(self, week: Week) -> None:
        """Start the process; it waits for its first round."""
        spawn = multiprocessing.get_context("spawn")
        self._ours: Connection | None
        self._ours, theirs = spawn.Pipe()
        self._process = spawn.Process(target=_walk, args=(week, theirs), daemon=True)
        self._process.start()
        theirs.close()
        self._hears_at = 0.0
        self._unheard = 0

    @property
    def is_at_work(self) -> bool:
        """True until it is known to have ended."""
        return self._ours is not None

    @property
    def process_id(self) -> int | None:
        """Number of its process."""
        return self._process.pid

    def set_out(self, one: SetOut) -> None:
        """End its round, and have it set out on this one."""
        if self._ours is None or self._unheard >= MOST_UNHEARD:
            return
        try:
            self._ours.send(one)
            self._unheard += 1
        except OSError:
            self.close()

    def best(self, below_cents: int) -> Genes | None:
        """Genes of the cheapest plan it has told of since last asked; None where it costs no less than this."""
        genes = None
        if self._ours is None or monotonic() < self._hears_at:
            return None
        self._hears_at = monotonic() + HEAR_EVERY_S
        try:
            while self._ours.poll():
                found: Found = self._ours.recv()
                if found.genes is None:
                    self._unheard -= 1
                elif found.cost_cents < below_cents:
                    genes, below_cents = found.genes, found.cost_cents
        except (EOFError, OSError):
            self.close()
        return genes

    def close(self) -> None:
        """End the process, if it is still at work."""
        if self._process.is_alive():
            self._process.terminate()
        self._process.join()
        if self._ours is not None:
            self._ours.close()
        self._ours = None


def timed(decoder: Decoder, genes: Genes) -> Best | None:
    """What genes cost by this process's own decoder; None where they make no plan."""
    if decoder.trials is None:
        found = decoder.decode_genes(genes)
        return Best(genes, found) if isinstance(found, Decoded) else None
    begun = decoder.trials.begin(genes)
    tried = begun if isinstance(begun, Refused) else decoder.trials.finish(genes, begun)
    return None if isinstance(tried, Refused) else Best(genes, tried)


def _walk(week: Week, channel: Connection) -> None:
    """Walk round after round, until whoever leads is gone."""
    # Ctrl-C reaches every process of a terminal; only the one that leads knows what to do about it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        decoder, at = Decoder(week), 0
        while True:
            one: SetOut = channel.recv()
            channel.send(Found(None))
            at = _round(decoder, one, channel, at)
    except (EOFError, OSError, MemoryError):
        return  # the end of the search, or no memory: what was found has been said


def _round(decoder: Decoder, one: SetOut, channel: Connection, at: int) -> int:
    """One round, until its time is over or something else is asked; where in the order it came to."""
    said = _Said(channel)
    if one.part is None:
        Annealing(decoder, one.genes, one.seed, said.hear, said.is_asked).run(Timed(one.seconds, one.gone))
    else:
        walk = StretchWalk(decoder, one.genes, one.seed, said.hear, said.is_asked, part=one.part, at=at)
        walk.run(Timed(one.seconds, one.gone))
        at = walk.at
    said.say()
    return at


class _Said:
    """Says better plans, not too often, and listens for the next round."""

    def __init__(self, channel: Connection) -> None:
        self._channel = channel
        self._best: Best | None = None
        self._says_at = self._listens_at = 0.0

    def hear(self, best: Best) -> None:
        self._best = best

    def is_asked(self) -> bool:
        """True once there is something to hear, be it the end."""
        now = monotonic()
        if now < self._listens_at:
            return False
        self._listens_at = now + HEAR_EVERY_S
        if now >= self._says_at:
            self._says_at = now + SAY_EVERY_S
            self.say()
        return self._channel.poll()

    def say(self) -> None:
        if self._best is not None:
            self._channel.send(Found(self._best.genes, self._best.decoded.cost_cents))
            self._best = None
