"""The species at a node follow from its totals alone, wherever the search for them starts."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import fizzplate as fp
from fizzplate.cell.physics.speciation import Speciation
from fizzplate.cell.physics.species import ACID
from fizzplate.cell.solver.model import Model
from fizzplate.chemistry import parse_formula
from fizzplate.chemistry.equilibria import newton

amount = st.floats(1e-6, 2000.0)
guess = st.floats(-30.0, 8.0)
LAMP = fp.Lamp(6.0, 0.06)


def settled(model, totals, start=None):
    """Give the species of one liquid; ``start`` is where the search begins, ln mol/m3."""
    solved = np.array([[totals.get(name, 0.0)] for name in model.solved])
    made = model.initial_composition(solved)
    constants = model.constants_at(made.system_mol_m3)
    begin = made.equilibrium if start is None else np.full_like(made.equilibrium, start)
    return model.speciate(solved, begin, constants), constants


def held(model, profile):
    return dict(zip(model.carried, profile.carried_mol_m3[:, 0], strict=True))


@given(metal=amount, sulfate=amount, start=guess, other=guess)
def test_copper_that_partly_precipitates_has_one_answer(metal, sulfate, start, other):
    model = Speciation(("Cu2+", "SO4^2-"))
    # electroneutral with any metal in excess held as hydroxide
    totals = {"Cu2+": metal, "SO4^2-": sulfate, ACID: 2 * (sulfate - metal)}
    first, _ = settled(model, totals, start)
    second, _ = settled(model, totals, other)
    assert first.equilibrium == pytest.approx(second.equilibrium, abs=1e-6)
    charge = model.charge @ first.concentration_mol_m3
    assert abs(charge[0]) < 1e-9 * (metal + sulfate)
    inside = sum(
        model.parts(name)[model.row["Cu2+"]] * value for name, value in held(model, first).items()
    )
    assert inside == pytest.approx(metal, rel=1e-9)


@given(oxidised=st.floats(1e-4, 2000.0), acid=st.floats(-500.0, 500.0), start=guess)
def test_chlorine_in_acid_or_alkali_keeps_its_equilibria(oxidised, acid, start):
    model = Speciation(("Na+", "Cl-"))
    profile, constants = settled(model, {"Cl-": 3000.0, "HClO": oxidised, ACID: acid}, start)
    c = held(model, profile)
    assert c["Cl2"] + c["HClO"] + c["ClO-"] == pytest.approx(oxidised, rel=1e-9)
    names = [
        member.formula
        for member in model.system.species
        if set(member.parts) <= {"H+", "Cl-", "HClO"}
    ]
    K = dict(zip(names, np.exp(constants[: len(names), 0]), strict=True))
    assert c["Cl2"] == pytest.approx(K["Cl2"] * c["HClO"] * c["H+"] * c["Cl-"], rel=1e-6)
    assert c["ClO-"] * c["H+"] == pytest.approx(K["ClO-"] * c["HClO"], rel=1e-6)


@pytest.mark.parametrize(
    ("pH_excess", "white", "orange"),
    [(10.0, True, False), (1.0, True, False), (-20.0, True, True)],
)
def test_each_copper_one_solid_is_only_where_it_is_saturated(pH_excess, white, orange):
    """At pH 2 and 3 copper(I) chloride alone; with alkali the oxide beside it, until chloride is free."""
    model = Speciation(("Na+", "Cu2+", "Cl-"))
    profile, _ = settled(model, {"Cl-": 500.0, "Cu+": 200.0, "Cu2+": 1e-6, ACID: pH_excess})
    c = held(model, profile)
    assert (c["CuCl"] > 1.0) == white
    assert (c["Cu2O"] > 1.0) == orange
    assert min(c.values()) > -1e-9


def test_copper_one_oxide_joins_its_chloride_near_pH_five_and_a_half():
    """Between 5.2 and 5.8 with half a mole of chloride."""
    model = Speciation(("Na+", "Cu2+", "Cl-"))
    for excess in np.linspace(-0.5, 0.01, 200)[::-1]:
        c = held(
            model,
            settled(model, {"Cl-": 700.0, "Cu+": 250.0, "Cu2+": 1e-6, ACID: excess})[0],
        )
        if c["Cu2O"] > 1e-3:
            break
    assert 5.2 < -np.log10(1e-3 * c["H+"]) < 5.8
    assert c["CuCl"] > 1.0


@pytest.mark.parametrize(
    "ions",
    [
        ("Na+", "Cl-"),
        ("Na+", "SO4^2-"),
        ("Cu2+", "SO4^2-"),
        ("Na+", "Cu2+", "Cl-"),
        ("Na+", "I-"),
        ("K+", "Br-", "NO3-"),
        ("Na+", "Zn2+", "SO4^2-"),
        ("Fe2+", "SO4^2-"),
        ("Ag+", "NO3-"),
    ],
    ids=" ".join,
)
def test_species_answer_to_the_totals_as_finite_differences_say(ions):
    """The slopes lead Newton's method, in which a wrong one would only cost time."""
    model, random = Speciation(ions), np.random.default_rng(5)
    drawn = 10 ** random.uniform(0, 3, (len(model.solved), 400))
    drawn[list(model.solved).index(ACID)] = random.uniform(-300, 300, 400)
    whole = model.all_totals(drawn)
    is_amount = [name != ACID for name in model.totals]
    solved = drawn[:, (whole[is_amount] > 1).all(axis=0)]
    assert solved.shape[1] > 40
    begin = model.initial_composition(solved)
    constants = model.constants_at(begin.system_mol_m3)
    made = model.speciate(solved, begin.equilibrium, constants)
    for total, name in enumerate(model.solved):
        step = 1e-3 * np.eye(len(model.solved))[:, total, None]
        above, below = (
            model.speciate(solved + s, made.equilibrium, constants, tolerance=1e-13)
            for s in (step, -step)
        )
        slope = made.carried_slope[:, total]
        difference = (above.carried_mol_m3 - below.carried_mol_m3) / (2 * step.max())
        close = np.isclose(slope, difference, rtol=1e-3, atol=1e-4 * (1 + abs(slope).max()))
        assert close.mean() > 0.98, (name, slope[~close][:3], difference[~close][:3])


@pytest.mark.parametrize(
    ("solution", "halogen", "most_pH"), [("NaBr", "Br2", 10.2), ("KI", "I2", 11.0)]
)
def test_a_halogen_in_alkali_becomes_its_oxoanion_and_no_oxygen_forms(solution, halogen, most_pH):
    """Bromide's 10.1 is what PHREEQC makes of the same totals (``tests/published``)."""
    run = fp.Cell(solution, lamp=LAMP).run(minutes=30, samples=31)
    assert run.anode.share(halogen)[-1] > 0.97
    assert run.pH[-1, run.position_m.size // 2] < most_pH


def test_iron_two_sulfate_stays_weakly_acid_and_plates_iron():
    run = fp.Cell("FeSO4", lamp=LAMP).run(minutes=30, samples=31)
    assert 3.0 < run.pH[-1, run.position_m.size // 2] < 4.2
    assert run.cathode.charge_C("Fe")[-1] > 0.8 * run.charge_C[-1]


def test_a_copper_anode_in_brine_dissolves_largely_as_copper_one():
    run = fp.Cell("NaCl", anode="copper", lamp=LAMP).run(minutes=10)
    assert run.anode.products[0] == "CuCl2-"
    assert float(run.anode.share("CuCl2-")[-1]) > 0.75
    white, orange = (float(run.haze_mol(solid)[-1]) for solid in ("CuCl", "Cu2O"))
    # white where it forms at the anode; what is carried into the neutral liquid turns into the orange oxide
    assert white > 3e-6
    assert orange > 3e-5
    where = run.concentration("CuCl2-")[-1]
    assert where[-1] > 10 * where[0]


def test_copper_two_chloride_still_gives_copper_with_a_little_copper_one():
    run = fp.Cell("CuCl2", lamp=LAMP).run(minutes=5)
    assert run.cathode.products[0] == "Cu"
    assert 0.001 < float(run.cathode.share("CuCl2-")[-1]) < 0.05


@pytest.mark.parametrize("chloride", [0.001, 0.01])
def test_hardly_any_copper_one_forms_where_hardly_any_chloride_can_hold_it(chloride):
    cell = fp.Cell({"Cu(NO3)2": 0.5, "NaCl": chloride}, lamp=LAMP)
    run = cell.run(minutes=3, samples=5)
    assert float(run.cathode.share("CuCl2-")[-1]) < 0.01 * chloride


def test_an_electrode_oxidises_and_reduces_copper_one_whatever_holds_it():
    model = Model.of(fp.Cell("CuCl2", anode="copper"))
    wanted = {"Cu+", "CuCl(aq)", "CuCl2-", "CuCl3^2-"}
    for role, name in (("anode", "copper(I) oxidised"), ("cathode", "copper from copper(I)")):
        reactions = model.electrode(role, "copper").reactions
        (reaction,) = (each for each in reactions if each.name == name)
        assert {model.speciation.carried[row] for row in reaction.limited_by} == wanted


@pytest.mark.parametrize(("solution", "halogen"), [("KI", "I"), ("NaBr", "Br")])
def test_a_halogen_made_fast_stays_in_the_liquid_and_meets_the_alkali(solution, halogen):
    """At 6 V without a lamp more is made than dissolves at once; none of it may vanish from the account."""
    run = fp.Cell(solution).run(minutes=10, samples=11)
    held_mol = sum(
        parse_formula(name).elements.get(halogen, 0) * run.amount_mol(name)
        for name in dict.fromkeys((*run.ions, *run.dissolved))
    )
    held_mol = held_mol + sum(
        parse_formula(name).elements.get(halogen, 0) * run.haze_mol(name) for name in run.hazes
    )
    assert run.anode.amount_mol(run.anode.products[0])[-1] > 1e-3
    assert held_mol == pytest.approx(np.full(11, held_mol[0]), rel=1e-6)
    middle = run.pH.shape[1] // 2
    # without the halogen it would be above 12; drops of bromine that settle are lost to it
    assert 10 < run.pH[-1, middle] < 11.3


def test_a_little_acid_beside_much_iodine_is_never_less_than_none():
    """Its total is seven powers of ten larger than the acid that is free."""
    run = fp.Cell("KI").run(minutes=30, samples=121)
    assert run.concentration("H+").min() > 0
    assert np.isfinite(run.pH).all()


@pytest.mark.parametrize(
    ("solution", "complex_", "solid"), [("NaBr", "CuBr2-", "CuBr"), ("KI", "CuI2-", "CuI")]
)
def test_a_copper_anode_makes_copper_one_in_bromide_and_iodide_too(solution, complex_, solid):
    run = fp.Cell(solution, anode="copper", lamp=LAMP).run(minutes=5, samples=5)
    assert run.anode.products[0] == complex_
    assert float(run.anode.share(complex_)[-1]) > 0.75
    assert float(run.haze_mol(solid)[-1]) > 5e-6
    assert not {"Br2", "I2"} & set(run.anode.products)


@pytest.mark.parametrize(
    ("solid", "halide", "solubility"), [("CuBr", "Br-", 4e-3), ("CuI", "I-", 8e-4)]
)
def test_halides_keep_little_copper_one_dissolved(solid, halide, solubility):
    """In 1 mol/dm3 of the halide: 10^(log K + log beta2) but for activities, which nearly cancel."""
    model = Speciation(("Na+", "Cu2+", halide))
    profile, _ = settled(model, {halide: 1000.0, "Cu+": 100.0, "Cu2+": 1e-6, ACID: 1.0})
    c = held(model, profile)
    assert c[solid] > 50
    assert 1e-3 * c[f"Cu{halide[:-1]}2-"] == pytest.approx(solubility, rel=0.25)


@pytest.mark.parametrize("alkali", [-50.0, 0.0, 400.0, 1500.0])
def test_eliminating_solids_that_are_nowhere_changes_nothing(alkali, monkeypatch):
    model = Speciation(("Cu2+", "Fe2+", "SO4^2-"))
    totals = {"Cu2+": 300.0, "Fe2+": 200.0, ACID: -alkali}
    eliminated, _ = settled(model, totals)
    monkeypatch.setattr(newton, "SOME", -1.0)  # every solid counts
    solved_for, _ = settled(model, totals)
    assert eliminated.carried_mol_m3 == pytest.approx(solved_for.carried_mol_m3, rel=1e-8, abs=1e-9)
    assert eliminated.carried_slope == pytest.approx(solved_for.carried_slope, abs=1e-6)


def test_what_is_not_there_as_a_solid_takes_no_steps_of_its_own(monkeypatch):
    """Its number follows from the saturation index: a guess that lags behind that is as good as any."""
    model = Speciation(("Cu2+", "SO4^2-"))
    totals = {"Cu2+": 1e-3, "SO4^2-": 500.0, ACID: 998.0}
    made, constants = settled(model, totals)
    assert made.precipitate_mol_m3.max() < 1e-12
    lagging = made.equilibrium.copy()
    first_solid = len(lagging) - 1 - len(model.solids)
    lagging[first_solid:-1] = -1.0
    solved = np.array([[totals[name]] for name in model.solved])
    solves, plain = [], np.linalg.solve

    def counting(*matrices):
        solves.append(1)
        return plain(*matrices)

    monkeypatch.setattr(np.linalg, "solve", counting)
    again = model.speciate(solved, lagging, constants, tolerance=1e-6)
    assert len(solves) == 1  # the last step, which gives the slopes
    assert again.carried_mol_m3 == pytest.approx(made.carried_mol_m3, rel=1e-6, abs=1e-12)
