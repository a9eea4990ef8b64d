"""The same semi-discrete equations as an ordinary differential equation for scipy's stiff solvers.

Potentials and current are solved inside the right-hand side. The state is the solved totals, the
amounts that passed the electrodes, the gas that left, and the stirring by bubbles at each electrode.
Transport coefficients are worked out at every call, since an ordinary differential equation has no
last step to keep them from.
"""

from __future__ import annotations

import math

import numpy as np

from fizzplate.cell.lagged import Lagged
from fizzplate.cell.simulate import Model, begin
from fizzplate.cell.state import Held, Step, Unknowns


class OrdinaryProblem:
    """One cell with its switch closed, as ``dy/dt = f(y)``."""

    def __init__(self, cell):
        self.model = Model.of(cell)
        self.transport = self.model.transport(+1)
        self.build_up_s = self.transport.stirring.build_up_s
        totals = self.model.start_totals
        guess = self.model.start_ln_hydrogen
        lagged = Lagged(self.model.mobilities, [{}, {}])
        still = np.zeros(2)
        integrator = begin(self.model, self.transport, totals, guess, still, 0.0, lagged, None)
        self.now = integrator.layout.unknowns(integrator.state)
        self.held = integrator.held
        self.supply = cell.supply
        self.ln_hydrogen = guess
        self.m, self.nodes = totals.shape
        self.size = totals.size
        self.counts = [len(e.reactions) for e in self.transport.electrodes]
        self.gases = 2 * len(self.transport.releases)
        self.start = np.zeros(self.size + sum(self.counts) + self.gases + 2)
        # node by node, so that neighbours are near each other and the Jacobian is nearly a band
        self.start[: self.size] = totals.T.ravel()
        charged = np.abs(self.model.speciation.charge)
        ions = self.model.speciation.speciate(totals, guess).concentration_mol_m3[:, 0]
        self.scale_mol_m3 = 0.05 * float(charged @ ions) / 2
        self.calls = 0

    def _solve(self, y):
        """Return the linearised equations with potentials, current and steps solved at state ``y``."""
        self.calls += 1
        totals = y[: self.size].reshape(self.nodes, self.m).T.copy()
        speciated = self.model.speciation.speciate(totals, self.ln_hydrogen)
        self.ln_hydrogen = speciated.ln_hydrogen
        flow = self.transport.flow
        flow.set_coefficients(*self.model.mobilities.evaluate(speciated.concentration_mol_m3))
        now, held, mixing = self.now, self.held, y[-2:]
        standing = Step(0.0, np.zeros_like(totals), np.zeros(2), held)
        for _ in range(60):
            now = Unknowns(totals, now.u, now.potential_V, now.ln_current, mixing)
            system = self.transport.linearise(now, speciated, standing)
            step = np.linalg.solve(system.border[:3, :3], -system.border_miss[:3])
            taken = np.clip(step, (-0.2, -0.2, -1.0), (0.2, 0.2, 1.0))
            u = now.u + system.flows.u_change + system.flows.u_by_ln_current * taken[2]
            moved = np.abs(u - now.u).max()
            ln_current = now.ln_current + float(taken[2])
            now = Unknowns(totals, u, now.potential_V + taken[:2], ln_current, mixing)
            if np.abs(step).max() < 1e-9 and moved < 1e-9:
                break
        if held.voltage and now.ln_current > self.supply.ln_most_A + 1e-9:
            self.held = Held(voltage=False, value=self.supply.ln_most_A)
        self.now = now
        return self.transport.linearise(now, speciated, standing)

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
        result[-2:] = -system.border_miss[3:] / self.build_up_s
        return result

    def jacobian(self, _, y):
        """Analytic, full: blocks of the nodes, and the shared potentials and current eliminated.

        How transport coefficients answer to the state is left out, as it is in the package's own
        Newton iteration.
        """
        system = self._solve(y)
        nodes, m, size = self.nodes, self.m, self.size
        full = np.zeros((y.size, y.size))
        blocks = full[:size, :size].reshape(nodes, m, nodes, m)
        k = np.arange(nodes)
        blocks[k, :, k] = system.diagonal
        blocks[k[1:], :, k[:-1]] = system.lower[1:]
        blocks[k[:-1], :, k[1:]] = system.upper[:-1]
        by_border = system.by_border.reshape(size, 5)
        gradient = np.zeros((5, y.size))
        gradient[:, :size] = system.border_by_totals.reshape(5, size)
        gradient[:, -2:] = system.border[:, 3:]
        answer = np.linalg.solve(system.border[:3, :3], gradient[:3])
        full[:size, -2:] = by_border[:, 3:]
        full[:size] -= by_border[:, :3] @ answer
        full[:size] /= -np.repeat(self.transport.grid.volume_m3, m)[:, None]
        full[-2:] = (system.border[3:, :3] @ answer - gradient[3:]) / self.build_up_s
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
            rows -= by_border @ answer
            place += count
        return full

    def products(self, y):
        """Return the amounts passed so far, mol, by electrode and product."""
        made = {}
        amounts = iter(y[self.size :])
        for side, electrode in enumerate(self.transport.electrodes):
            for reaction in electrode.reactions:
                key = (side, reaction.product)
                amount = reaction.formed[reaction.product] * float(next(amounts))
                made[key] = made.get(key, 0.0) + amount
        return made
