"""Pot life: a mixed ink that goes off is mixed again and again while a run is printed.

Discharge is printed with 6 to 10 % of an activator by weight and goes off 6 to 8 hours after it is mixed; the advice
is to mix what 2 to 4 hours need ("Understanding Discharge Inks", M. Ukena, Screen Printing, September 2007; Ryonet, 22
April 2008). How many minutes the press stands for a further batch: common practice, no source. Start values only: the
ink maker's technical and safety data sheets win; discharge gives off formaldehyde while it cures.
"""

from __future__ import annotations

from scheduler.trade.rounding import demand


def batches(print_min: int, pot_life_min: int) -> int:
    """Batches mixed for a run: ceil(print_min / pot_life_min), at least one.

    print_min: minutes of printing, 0 and more; pot_life_min: minutes a batch lasts, 1 and more. Only minutes of
    printing count: a batch left over a night is mixed anew while the press warms up, which costs no press minutes here.
    """
    demand("print minutes", print_min)
    demand("pot life minutes", pot_life_min, least=1)
    return max(1, -(-print_min // pot_life_min))


def mixing_minutes(print_min: int, *, pot_life_min: int | None, remix_min: int) -> int:
    """Press minutes for the batches after the first: (ceil(print_min / pot_life_min) - 1) x remix_min.

    remix_min: minutes the press stands for one further batch, 0 and more. The first is mixed before the run, off the
    press. pot_life_min None: the ink does not go off, 0 minutes.
    """
    demand("minutes to mix a batch", remix_min)
    return 0 if pot_life_min is None else (batches(print_min, pot_life_min) - 1) * remix_min
