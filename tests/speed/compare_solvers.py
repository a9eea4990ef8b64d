"""Time runs beside scipy's stiff solvers on the same equations.

    python tests/speed/compare_solvers.py [case ...] [--minutes 30] [--ladder 1e-1 ...] [--repeats 2]

The error is that of the cumulative amounts of every product against a very tight solution, relative to
the largest of them. Every solver of scipy runs down a ladder of tolerances and counts with its fastest
run that is right enough, in two senses: as right as this package at its default, and right to 1e-3.
The best time of several is taken, all in one process; two ratios are printed for each sense.
"""

from __future__ import annotations

import argparse
import math
import time
from dataclasses import dataclass

import numpy as np
from ordinary_solvers import OrdinaryProblem
from scipy.integrate import solve_ivp

import fizzplate as fp

SAMPLES = 121
LADDER = (1e-1, 3e-2, 2e-2, 1e-2, 5e-3, 3e-3, 1e-3, 3e-4, 1e-4, 1e-5)
GIVE_UP_S = 1.5  # at least
GIVE_UP = 15  # times as long as this package takes
RIGHT_ENOUGH = 1e-3
LAMP = fp.Lamp(6.0, 0.06)

CASES = {
    "brine 0.5 mol/dm3": lambda: fp.Cell("NaCl", lamp=LAMP),
    "brine 0.05 mol/dm3": lambda: fp.Cell("NaCl", concentration_mol_dm3=0.05, lamp=LAMP),
    "brine 0.005 mol/dm3": lambda: fp.Cell("NaCl", concentration_mol_dm3=0.005, lamp=LAMP),
    "sodium sulfate": lambda: fp.Cell("Na2SO4", lamp=LAMP),
    "copper(II) chloride above its limit": lambda: fp.Cell("CuCl2", supply_V=3.0),
    "copper in copper(II) sulfate above its limit": lambda: fp.Cell(
        "CuSO4", concentration_mol_dm3=0.1, anode="copper", cathode="copper", supply_V=3.0
    ),
    "potassium iodide": lambda: fp.Cell("KI", lamp=LAMP),
    "a mixture": lambda: fp.Cell({"NaCl": 0.5, "KI": 0.1}, lamp=LAMP),
    "brine, U-tube": lambda: fp.Cell("NaCl", vessel="U-tube"),
}


@dataclass(frozen=True)
class Size:
    """How much is compared."""

    minutes: float
    ladder: tuple[float, ...]
    repeats: int
    max_s: float

    @property
    def end_s(self):
        """When a run ends, s."""
        return 60.0 * self.minutes


@dataclass(frozen=True)
class Try:
    """One solver at one tolerance."""

    tolerance: float
    seconds: float
    error: float
    calls: int


def ordinary(cell, end_s, method, tolerance, *, analytic, band=0, max_s=math.inf):
    """Return seconds, the problem and its last state; ``None`` for the state if it was not done."""
    problem = OrdinaryProblem(cell)
    scale = np.full(problem.start.size, tolerance * float(problem.scale_mol_m3))
    scale[problem.size :] = tolerance * 1e-5
    scale[-2:] = tolerance
    options = {"jac": problem.jacobian} if analytic else {}
    if band:
        options |= {"lband": band, "uband": band}
    started = time.perf_counter()

    def rates(at_s, state):
        if time.perf_counter() - started > max_s:
            raise TimeoutError
        return problem.rates(at_s, state)

    try:
        solution = solve_ivp(
            rates,
            (0.0, end_s),
            problem.start,
            method=method,
            t_eval=np.linspace(0.0, end_s, SAMPLES),
            rtol=tolerance,
            atol=scale,
            first_step=1e-4,
            **options,
        )
    except (TimeoutError, ValueError, np.linalg.LinAlgError):
        # out of time, or a step so far off that the equations have no value there
        return math.inf, problem, None
    seconds = time.perf_counter() - started
    return seconds, problem, solution.y[:, -1] if solution.success else None


def ours(cell, size):
    """Return the best seconds and the amounts by electrode and product."""
    times = []
    for _ in range(size.repeats + 1):
        started = time.perf_counter()
        (run,) = fp.run_many([cell], size.minutes, samples=SAMPLES)
        times.append(time.perf_counter() - started)
    made = {
        (side, product): float(electrode.amount_mol(product)[-1])
        for side, electrode in enumerate((run.cathode, run.anode))
        for product in electrode.products
    }
    return min(times[1:]), made


def miss(made, reference):
    """Return the largest error of an amount, relative to the largest amount."""
    worst = max(abs(made.get(key, 0.0) - amount) for key, amount in reference.items())
    return worst / max(reference.values())


def ladder(cell, size, reference, max_s, method, **options):
    """Return every tolerance of the ladder that was done in time."""
    done, given_up = [], 0
    for tolerance in size.ladder:
        if given_up == 6:
            break
        best = ordinary(cell, size.end_s, method, tolerance, max_s=max_s, **options)
        given_up = given_up + 1 if best[2] is None else 0
        for _ in range(size.repeats - 1 if best[2] is not None else 0):
            again = ordinary(cell, size.end_s, method, tolerance, max_s=max_s, **options)
            best = min(best, again, key=lambda each: each[0])
        seconds, problem, state = best
        if state is not None:
            error = miss(problem.products(state), reference)
            done.append(Try(tolerance, seconds, error, problem.calls))
    return done


def compare(name, cell, size):
    """Print one case; return the four ratios."""
    tight_s, problem, state = ordinary(cell, size.end_s, "BDF", 1e-7, analytic=True)
    reference = problem.products(state)
    seconds, made = ours(cell, size)
    error = miss(made, reference)
    print(f"{name}: this package {seconds * 1e3:.0f} ms, error {error:.1e} ", end="")
    print(f"(against BDF at rtol 1e-7, {tight_s:.0f} s)", flush=True)
    # the band leaves out the shared current and the rows of the amounts
    band = 2 * len(problem.model.speciation.solved) - 1
    analytic = {
        f"{m}, analytic Jacobian": (m, {"analytic": True}) for m in ("BDF", "Radau", "LSODA")
    }
    differences = {
        f"{m}, own finite differences": (m, {"analytic": False}) for m in ("BDF", "LSODA")
    }
    differences["LSODA, banded finite differences"] = ("LSODA", {"analytic": False, "band": band})
    ratios = []
    for solvers in (analytic, differences):
        best = {error: math.inf, RIGHT_ENOUGH: math.inf}
        for label, (method, options) in solvers.items():
            max_s = max(size.max_s, GIVE_UP * seconds)
            done = ladder(cell, size, reference, max_s, method, **options)
            for bound in best:
                right = [each for each in done if each.error <= max(bound, 1e-6)]
                if not right:
                    print(f"  {label:34s} within {bound:.0e}: never in time")
                    continue
                fastest = min(right, key=lambda each: each.seconds)
                best[bound] = min(best[bound], fastest.seconds)
                print(
                    f"  {label:34s} within {bound:.0e}: {fastest.seconds * 1e3:5.0f} ms at rtol "
                    f"{fastest.tolerance:g}, {fastest.calls} right-hand sides"
                )
        ratios += [best[error] / seconds, best[RIGHT_ENOUGH] / seconds]
    print(
        f"  ratio, analytic Jacobian: {ratios[0]:.1f} at the same error, {ratios[1]:.2f} within 1e-3\n"
        f"  ratio, finite differences: {ratios[2]:.1f} at the same error, {ratios[3]:.2f} within 1e-3",
        flush=True,
    )
    return ratios


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    chosen.add_argument("cases", nargs="*", metavar="case", help="; ".join(CASES))
    chosen.add_argument("--minutes", type=float, default=30)
    chosen.add_argument("--ladder", type=float, nargs="+", default=LADDER, metavar="tolerance")
    chosen.add_argument("--repeats", type=int, default=2)
    chosen.add_argument("--max-s", type=float, default=GIVE_UP_S, metavar="seconds")
    options = chosen.parse_args()
    size = Size(options.minutes, tuple(options.ladder), options.repeats, options.max_s)
    table = np.array([compare(name, CASES[name](), size) for name in options.cases or CASES])
    print("medians:", " ".join(f"{value:.2f}" for value in np.median(table, axis=0)))


if __name__ == "__main__":
    main()
