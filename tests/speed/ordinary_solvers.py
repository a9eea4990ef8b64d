"""The same semi-discrete equations as an ordinary differential equation for scipy's stiff solvers.

Potentials and current are solved inside the right-hand side. The state is the solved totals, the
amounts that passed the electrodes, the gas that left and formed bubbles, and the stirring at each electrode.
Transport coefficients are worked out at every call, since an ordinary differential equation has no
last step to keep them from.
"""

from __future__ import annotations

import math

import numpy as np

from fizzplate.cell.solver.batch import Trajectory, stage_integrator
from fizzplate.cell.solver.convergence import Tolerance
from fizzplate.cell.solver.model import Model
from fizzplate.cell.solver.state import Step, SupplyControl, Unknowns
from fizzplate.chemistry.constants import FARADAY_C_MOL


class OrdinaryProblem:
    """One cell with its switch closed, as ``dy/dt = f(y)``."""

    def __init__(self, cell):
        trajectory = Trajectory.at_start(Model.of(cell), np.zeros(1))
        self.model = trajectory.model
        integrator = stage_integrator([trajectory], +1, 0.0, Tolerance())
        self.transport = integrator.transport
        self.build_up_s = self.transport.border.stirring.build_up_s
        self.now = integrator.layout.unknowns(integrator.states)
        self.supply_control = integrator.supply_control
        self.supply = cell.supply
        totals, guess = self.model.start_totals, self.model.start_equilibrium
        self.equilibrium = guess[:, None]
        self.m, self.nodes = totals.shape
        self.size = totals.size
        self.electrons = self.transport.face_model.electrons
        self.passed = self.electrons.size
        self.gases = 4 * len(self.transport.releases)
        self.start = np.zeros(self.size + self.passed + self.gases + 2)
        # node by node, so that neighbours are near each other and the Jacobian is nearly a band
        self.start[: self.size] = totals.T.ravel()
        charged = np.abs(self.model.speciation.charge)
        ions = self.model.speciation.at_own_strength(totals, guess).concentration_mol_m3[:, 0]
        self.scale_mol_m3 = 0.05 * float(charged @ ions) / 2
        self.calls = 0

    def _solve(self, y):
        """Return the linearised equations with potentials, current and steps solved at state ``y``."""
        self.calls += 1
        totals = y[: self.size].reshape(self.nodes, self.m).T[:, None].copy()
        model = self.transport.model
        settled = model.at_own_strength(totals, self.equilibrium)
        self.equilibrium = settled.equilibrium
        constants = model.constants_at(settled.system_mol_m3)
        composition = model.speciate(totals, self.equilibrium, constants)
        coefficients = self.model.mobilities.evaluate(settled.system_mol_m3[:, 0])
        self.transport.let_films_flow(settled.system_mol_m3, slice(None))
        self.transport.flow.set_coefficients(*(each[:, None] for each in coefficients))
        self.transport.let_bubbles_rise(settled.system_mol_m3, slice(None))
        now, mixing = self.now, y[None, -2:]
        standing = Step(np.zeros(1), np.zeros_like(totals), np.zeros((1, 2)), self.supply_control)
        for _ in range(60):
            now = Unknowns(totals, now.u, now.potential_V, now.ln_current, mixing)
            system = self.transport.linearise(now, composition, standing)
            step = np.linalg.solve(system.border[0, :3, :3], -system.border_miss[0, :3])
            taken = np.clip(step, (-0.2, -0.2, -1.0), (0.2, 0.2, 1.0))
            u = now.u + system.flows.u_change + system.flows.u_by_ln_current * taken[2]
            moved = np.abs(u - now.u).max()
            now = Unknowns(
                totals, u, now.potential_V + taken[:2], now.ln_current + taken[2], mixing
            )
            if np.abs(step).max() < 1e-9 and moved < 1e-9:
                break
        if (
            self.supply_control.voltage[0]
            and now.ln_current[0] > self.supply.ln_max_current_A + 1e-9
        ):
            self.supply_control = SupplyControl(
                np.array([False]), np.array([self.supply.ln_max_current_A])
            )
        self.now = now
        return self.transport.linearise(now, composition, standing)

    @property
    def per_second(self):
        """Electrons that pass, mol/s."""
        return math.exp(self.now.ln_current[0]) / FARADAY_C_MOL

    def rates(self, _, y):
        """The right-hand side."""
        system = self._solve(y)
        result = np.empty_like(y)
        volume = self.transport.volume_m3[0]
        result[: self.size] = (-system.residual[0] / volume[:, None]).ravel()
        after = self.size + self.passed
        shares = system.faces.rates.share[0]
        result[self.size : after] = (self.per_second * shares / self.electrons).ravel()
        result[after : after + self.gases] = system.faces.released.ravel()
        result[-2:] = -system.border_miss[0, 3:] / self.build_up_s
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
        blocks[k, :, k] = system.diagonal[0]
        blocks[k[1:], :, k[:-1]] = system.lower[0, 1:]
        blocks[k[:-1], :, k[1:]] = system.upper[0, :-1]
        by_border = system.by_border[0].reshape(size, 5)
        border = system.border[0]
        gradient = np.zeros((5, y.size))
        gradient[:, :size] = system.border_by_totals[0].reshape(5, size)
        gradient[:, -2:] = border[:, 3:]
        answer = np.linalg.solve(border[:3, :3], gradient[:3])
        full[:size, -2:] = by_border[:, 3:]
        full[:size] -= by_border[:, :3] @ answer
        full[:size] /= -np.repeat(self.transport.volume_m3[0], m)[:, None]
        full[-2:] = (border[3:, :3] @ answer - gradient[3:]) / self.build_up_s
        faces = system.faces
        count = self.electrons.shape[1]
        for side, node in enumerate((0, nodes - 1)):
            electrons = self.electrons[side]
            rows = full[size + side * count : size + (side + 1) * count]
            own = slice(node * m, (node + 1) * m)
            rows[:, own] += self.per_second * faces.share_by_totals[0, side] / electrons[:, None]
            by_border = np.zeros((count, 3))
            by_border[:, side] = self.per_second * faces.rates.share_by_E[0, side] / electrons
            by_border[:, 2] = self.per_second * faces.rates.share[0, side] / electrons
            rows -= by_border @ answer
        gases = full[size + self.passed : size + self.passed + self.gases]
        for side, node in enumerate((0, nodes - 1)):
            rows = np.split(gases, 2)[side]
            rows[:, node * m : (node + 1) * m] += faces.released_by_totals[0, side]
            rows -= np.outer(faces.released_by_E[0, side], answer[side])
            rows -= np.outer(faces.released_by_ln[0, side], answer[2])
        return full

    def products(self, y):
        """Return the amounts passed so far, mol, by electrode and product."""
        made = {}
        amounts = y[self.size : self.size + self.passed].reshape(2, -1)
        for side, electrode in enumerate(self.transport.electrodes):
            for reaction, amount in zip(electrode.reactions, amounts[side], strict=False):
                key = (side, reaction.product)
                passed = reaction.product_count * float(amount)
                made[key] = made.get(key, 0.0) + passed
        return made
