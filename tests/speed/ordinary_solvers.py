"""The same semi-discrete equations as an ordinary differential equation for scipy's stiff solvers.

Potentials and current are solved inside the right-hand side. The state is the solved totals, the
amounts that passed the electrodes, the gas that left, and the stirring by bubbles at each electrode.
Transport coefficients are worked out at every call, since an ordinary differential equation has no
last step to keep them from.
"""

from __future__ import annotations

import math

import numpy as np

from fizzplate.cell.integrator import Tolerance
from fizzplate.cell.lagged import Lagged
from fizzplate.cell.simulate import Model, begin
from fizzplate.cell.transport import Held, Unknowns


class OrdinaryProblem:
    """One cell with its switch closed, as ``dy/dt = f(y)``."""

    def __init__(self, cell):
        self.model = Model.of(cell)
        self.transport = self.model.transport(+1)
        nodes = cell.geometry.volume_m3.size
        self.lagged = Lagged(self.model.mobilities, [0.0, 0.0], [0.0, 0.0])
        totals = self.model.start_totals[:, None] * np.ones(nodes)
        guess = np.full(nodes, self.model.start_ln_hydrogen)
        integrator = begin(self.model, self.transport, totals, guess, 0.0, self.lagged, Tolerance())
        self.now = integrator.layout.unknowns(integrator.state)
        self.held = integrator.held
        self.supply = cell.supply
        self.ln_hydrogen = integrator.ln_hydrogen
        self.m, self.nodes = totals.shape
        self.size = totals.size
        self.counts = [len(e.reactions) for e in self.transport.electrodes]
        self.gases = 2 * len(self.transport.releases)
        self.start = np.zeros(self.size + sum(self.counts) + self.gases + 2)
        # node by node, so that neighbours are near each other and the Jacobian is nearly a band
        self.start[: self.size] = totals.T.ravel()
        self.calls = 0

    def _solve(self, y):
        """Return the linearised equations with potentials, current and steps solved at state ``y``."""
        self.calls += 1
        totals = y[: self.size].reshape(self.nodes, self.m).T.copy()
        speciated = self.model.speciation.speciate(totals, self.ln_hydrogen)
        self.ln_hydrogen = speciated.ln_hydrogen
        flow = self.transport.flow
        flow.set_coefficients(*self.model.mobilities.evaluate(speciated.concentration_mol_m3))
        flow.set_film_mixing(*y[-2:])
        now, held = self.now, self.held
        nothing = np.zeros_like(totals)
        for _ in range(60):
            now = Unknowns(totals, now.u, now.potential_V, now.ln_current)
            system = self.transport.linearise(now, speciated, nothing, 0.0, held)
            step = np.linalg.solve(system.border, -system.border_miss)
            taken = np.clip(step, (-0.2, -0.2, -1.0), (0.2, 0.2, 1.0))
            u = now.u + system.flows.u_change + system.flows.u_by_ln_current * taken[2]
            moved = np.abs(u - now.u).max()
            now = Unknowns(totals, u, now.potential_V + taken[:2], now.ln_current + float(taken[2]))
            if np.abs(step).max() < 1e-9 and moved < 1e-9:
                break
        if held.voltage and now.ln_current > self.supply.ln_most_A + 1e-9:
            self.held = Held(voltage=False, value=self.supply.ln_most_A)
        self.now = now
        return self.transport.linearise(now, speciated, nothing, 0.0, held)

    def rates(self, _, y):
        """The right-hand side."""
        system = self._solve(y)
        result = np.empty_like(y)
        volume = self.transport.grid.volume_m3
        result[: self.size] = (-system.residual / volume[:, None]).ravel()
        per_second = math.exp(self.now.ln_current) / 96485.33212
        place = self.size
        for side, face in enumerate(system.faces):
            electrons = self.transport.faces[side].electrons
            count = self.counts[side]
            result[place : place + count] = per_second * face.rates.share / electrons
            place += count
        released = np.concatenate([face.released for face in system.faces])
        result[place : place + self.gases] = released
        result[-2:] = self._stirring(system, y)
        return result

    def _stirring(self, system, y):
        grid = self.transport.grid
        current_A = math.exp(self.now.ln_current)
        wanted = [
            self.lagged._mixing_m2_s(
                current_A
                * sum(
                    share
                    for share, reaction in zip(
                        face.rates.share, self.transport.electrodes[side].reactions, strict=True
                    )
                    if reaction.product in {"H2", "O2"}
                )
                / grid.area_m2,
                grid.film_m,
            )
            for side, face in enumerate(system.faces)
        ]
        return (np.array(wanted) - y[-2:]) / self.lagged._build_up_s

    def jacobian(self, _, y):
        """Analytic, full: blocks of the nodes, and the shared potentials and current eliminated.

        How transport coefficients and stirring answer to the state is left out, as it is in the
        package's own Newton iteration.
        """
        system = self._solve(y)
        nodes, m, size = self.nodes, self.m, self.size
        full = np.zeros((y.size, y.size))
        blocks = full[:size, :size].reshape(nodes, m, nodes, m)
        k = np.arange(nodes)
        blocks[k, :, k] = system.diagonal
        blocks[k[1:], :, k[:-1]] = system.lower[1:]
        blocks[k[:-1], :, k[1:]] = system.upper[:-1]
        gradient = system.border_by_totals.reshape(3, size)
        answer = np.linalg.solve(system.border, gradient)
        full[:size, :size] -= system.by_border.reshape(size, 3) @ answer
        full[:size, :size] /= -np.repeat(self.transport.grid.volume_m3, m)[:, None]
        per_second = math.exp(self.now.ln_current) / 96485.33212
        place = size
        for side, face in enumerate(system.faces):
            count = self.counts[side]
            node = face.node % nodes
            electrons = self.transport.faces[side].electrons[:, None]
            rows = full[place : place + count]
            rows[:, node * m : (node + 1) * m] += per_second * face.share_by_totals / electrons
            by_border = np.zeros((count, 3))
            by_border[:, side] = per_second * face.rates.share_by_E / electrons[:, 0]
            by_border[:, 2] = per_second * face.rates.share / electrons[:, 0]
            rows[:, :size] -= by_border @ answer
            place += count
        full[-2, -2] = full[-1, -1] = -1.0 / self.lagged._build_up_s
        return full

    def amounts(self, y):
        """Amounts passed at both electrodes, mol."""
        return y[self.size : self.size + sum(self.counts)]
