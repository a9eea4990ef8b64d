"""Time the equilibrium of a round beside its transport, both beside a bare linear solve of the same size.

    python tests/speed/compare_rounds.py [--minutes 5] [--cells NAME ...]

Each round of a run works out the equilibrium at every node, then the equations of transport, and solves
them. Everything is timed in the same rounds, as processor time; what is printed are ratios, and how many
Newton steps to the equilibrium a round takes.
"""

from __future__ import annotations

import argparse
import time
from contextlib import contextmanager

import fizzplate as fp
from fizzplate.cell.physics import Speciation
from fizzplate.cell.solver.linear import BlockTridiagonal
from fizzplate.cell.solver.transport import Transport
from fizzplate.chemistry.equilibria import EquilibriumSolver

CELLS = {
    "brine": {"solution": "NaCl"},
    "copper": {"solution": "CuSO4", "anode": "copper", "cathode": "copper"},
    "iodide": {"solution": "KI"},
    "zinc beside copper": {"solution": {"ZnSO4": 0.3, "CuCl2": 0.1}},
}
WATCHED = ((Speciation, "speciate"), (Transport, "improve"), (BlockTridiagonal, "solve"))


class Watch:
    """Adds up the calls of a method and their processor time, s."""

    def __init__(self, owner, name):
        self.calls, self.seconds = 0, 0.0
        self._owner, self._name, self._plain = owner, name, getattr(owner, name)

    def __enter__(self):
        plain = self._plain

        def timed(*values, **named):
            started = time.process_time()
            result = plain(*values, **named)
            self.seconds += time.process_time() - started
            self.calls += 1
            return result

        setattr(self._owner, self._name, timed)
        return self

    def __exit__(self, *error):
        setattr(self._owner, self._name, self._plain)


@contextmanager
def counted_steps():
    """Give a list that ends up with one entry for every Newton step to an equilibrium."""
    steps, plain = [], EquilibriumSolver._take_step

    def counting(self, *values):
        steps.append(1)
        return plain(self, *values)

    EquilibriumSolver._take_step = counting
    try:
        yield steps
    finally:
        EquilibriumSolver._take_step = plain


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("--minutes", type=float, default=5)
    chosen.add_argument("--cells", nargs="+", default=list(CELLS), choices=CELLS, metavar="NAME")
    options = chosen.parse_args()
    for name in options.cells:
        cell = fp.Cell(**CELLS[name], supply_V=6.0)
        equilibrium, improve, solve = (Watch(*each) for each in WATCHED)
        with equilibrium, improve, solve, counted_steps() as steps:
            cell.run(minutes=options.minutes, samples=31)
        transport_s = improve.seconds - solve.seconds
        print(
            f"{name}: {improve.calls} rounds, {len(steps) / improve.calls:.1f} steps a round; "
            f"equilibrium over transport, ratio {equilibrium.seconds / transport_s:.2f}; "
            f"both over a bare linear solve, "
            f"ratio {(equilibrium.seconds + transport_s) / solve.seconds:.1f}"
        )


if __name__ == "__main__":
    main()
