"""How surely a run is known: ranges from the factors of its exchange current densities."""

import numpy as np
import pytest

import fizzplate as fp
from fizzplate import data
from fizzplate.cell import uncertainty
from fizzplate.cell.influence import Change, Film
from fizzplate.cell.made import Made
from fizzplate.cell.physics import ExchangeRow
from fizzplate.cell.uncertainty import Uncertainty

OXYGEN = ExchangeRow("oxygen from water", "graphite")
CHLORINE = ExchangeRow("chlorine evolved", "graphite")


def thin_brine():
    """Return a cell whose anode makes oxygen and chlorine."""
    return fp.Cell("NaCl", concentration_mol_dm3=0.01, current_A=0.03)


@pytest.fixture(scope="module")
def run():
    return thin_brine().run(minutes=3, samples=7)


def test_oxygen_from_thin_brine_is_hardly_known(run):
    """29 %, and 23 to 57 % by the factor of oxygen alone: so little salt hardly moves the liquid."""
    by_change = dict(zip(run.changes, run.anode._uncertainty.changed, strict=True))
    shares = [by_change[Change(OXYGEN, factor)][1].shares["O2"][-1] for factor in (0.1, 10.0)]
    assert run.anode.share("O2")[-1] == pytest.approx(0.29, abs=0.02)
    assert shares == [pytest.approx(0.23, abs=0.015), pytest.approx(0.585, abs=0.015)]
    low, high = run.anode.share_range("O2")
    assert low[-1] < shares[0]
    assert shares[1] < high[-1] < 0.75


def test_a_change_is_what_the_cell_gives_with_another_constant(run, monkeypatch):
    """Side by side in one batch, as alone with another table."""
    together = dict(zip(run.changes, run.anode._uncertainty.changed, strict=True))
    table_value = ExchangeRow.value_A_m2.fget
    assert {change.constant for change in together} == {OXYGEN, CHLORINE, Film()}
    for change, (_, at_anode) in together.items():
        if change.constant == Film():
            continue
        monkeypatch.setattr(
            ExchangeRow,
            "value_A_m2",
            property(
                lambda row, c=change: (
                    table_value(row) * (c.factor if row.changes_with(c.constant) else 1.0)
                )
            ),
        )
        alone = thin_brine().run(minutes=3, samples=7)
        assert at_anode.shares["O2"] == pytest.approx(alone.anode.share("O2"), rel=1e-6)
        assert at_anode.amounts_mol["Cl2"] == pytest.approx(alone.anode.amount_mol("Cl2"), rel=1e-6)


def test_where_supply_decides_the_layer_decides_how_surely_a_deposit_is_known():
    """Silver beyond its limiting current: a thicker layer lets less through, at most a quarter less."""
    run = fp.Cell("AgNO3", concentration_mol_dm3=0.05, current_A=0.05).run(minutes=5, samples=6)
    silver = run.cathode.share("Ag")[-1]
    assert 0.5 < silver < 0.95
    assert {change.constant for change in run.changes} == {Film()}
    thicker, thinner = (
        next(
            at_cathode.shares["Ag"][-1]
            for change, (at_cathode, _) in zip(
                run.changes, run.cathode._uncertainty.changed, strict=True
            )
            if (change.factor > 1) == is_thicker
        )
        for is_thicker in (True, False)
    )
    assert silver / 1.33 < thicker < 0.95 * silver
    assert thinner > silver
    low, high = run.cathode.share_range("Ag")
    assert (low[-1], high[-1]) == (pytest.approx(thicker), pytest.approx(min(thinner, 1.0)))


def test_a_vessel_without_layers_has_none_to_change():
    run = fp.Cell("AgNO3", vessel="still column", supply_V=6.0).run(minutes=2, samples=3)
    assert Film() not in {change.constant for change in run.changes}


def made(share, mol):
    """Return what an electrode made, at one sample."""
    return Made({"O2": np.array([share])}, {"O2": np.array([mol])}, {}, {})


def test_differences_add_up_by_squares_and_of_a_constant_the_farther_counts():
    changes = (Change(OXYGEN, 10.0), Change(OXYGEN, 0.1), Change(CHLORINE, 10.0))
    known = Uncertainty(None, 0.0, (), {}, samples=1, changes=changes)
    by_change = ((made(0.8, 8.0), made(0.0, 0.0)), (made(0.6, 5.0), None), (made(0.9, 1.0), None))
    known.__dict__["changed"] = by_change
    low, high = known.band(0, np.array([0.5]), lambda each: each.shares["O2"])
    assert (low[0], high[0]) == (0.5, pytest.approx(0.5 + np.hypot(0.3, 0.4)))
    low, high = known.band(0, np.array([5.0]), lambda each: each.amounts_mol["O2"])
    assert (low[0], high[0]) == (1.0, 8.0)


def test_ranges_hold_the_run_and_stay_possible(run):
    for electrode in (run.cathode, run.anode):
        for product in electrode.products:
            low, high = electrode.share_range(product)
            share = electrode.share(product)
            assert ((low >= 0) & (low <= share) & (share <= high) & (high <= 1)).all()
            low, high = electrode.amount_range_mol(product)
            made_mol = electrode.amount_mol(product)
            assert ((low >= 0) & (low <= made_mol) & (made_mol <= high)).all()
    least_cm3, most_cm3 = run.anode.volume_range_cm3("O2")
    least_mol, most_mol = run.anode.amount_range_mol("O2")
    per_mol = run.anode.gas_cm3("O2")[-1] / run.anode.amount_mol("O2")[-1]
    assert [least_cm3[-1], most_cm3[-1]] == pytest.approx(
        [least_mol[-1] * per_mol, most_mol[-1] * per_mol]
    )


def test_the_mass_of_a_deposit_follows_the_overpotential_of_the_other_electrode():
    """Oxygen needs more voltage, or less: less current, or more, is left for copper."""
    run = fp.Cell("CuSO4", supply_V=4.0).run(minutes=2, samples=3)
    low, high = run.cathode.mass_range_g("Cu")
    mass_g = run.cathode.mass_g("Cu")
    assert {change.constant for change in run.changes} >= {OXYGEN}
    assert 0.02 < 1 - low[-1] / mass_g[-1] < 0.3
    assert 0.02 < high[-1] / mass_g[-1] - 1 < 0.3
    held = fp.Cell("CuSO4", current_A=0.03).run(minutes=2, samples=3)
    low, high = held.cathode.mass_range_g("Cu")
    assert high[-1] - low[-1] < 0.001 * held.cathode.mass_g("Cu")[-1]
    nothing, too = held.cathode.mass_range_g("Zn")
    assert not nothing.any()
    assert not too.any()


def test_at_its_limiting_current_no_deposit_depends_on_kinetics():
    cell = fp.Cell("CuSO4", concentration_mol_dm3=0.01, current_A=0.05)
    changes = cell.run(minutes=2, samples=3).changes
    # its film may matter, as for every supply
    rows = {getattr(change.constant, "reaction", "") for change in changes}
    assert "copper deposited" not in rows


def test_no_run_is_made_until_a_range_is_asked_for_and_then_once(monkeypatch):
    asked = []
    simulate = uncertainty.simulate_models
    monkeypatch.setattr(
        uncertainty,
        "simulate_models",
        lambda models, *rest, **more: asked.append(len(models)) or simulate(models, *rest, **more),
    )
    run = thin_brine().run(minutes=1, samples=3)
    assert asked == []
    run.anode.share_range("O2")
    run.anode.amount_range_mol("Cl2")
    run.cathode.share_range("H2")
    assert asked == [len(run.changes)]


def test_a_run_has_at_most_six_changes_and_a_certain_one_none():
    many = fp.Cell("FeSO4", anode="iron", supply_V=6.0).run(minutes=0.1, samples=3)
    assert 3 <= len(many.changes) <= 6
    iodide = fp.Cell("KI", current_A=0.02).run(minutes=1, samples=3)
    assert iodide.changes == ()
    low, high = iodide.anode.share_range("I2")
    assert low.tolist() == high.tolist() == iodide.anode.share("I2").tolist()
    open_ = fp.Cell("NaCl").run(stages=[fp.Stage(1, off=True)], samples=3)
    assert open_.changes == ()


def test_swapped_wires_have_ranges_too():
    run = fp.Cell("NaCl", concentration_mol_dm3=0.01, current_A=0.03).run(
        stages=[fp.Stage(1), fp.Stage(1, swapped=True)], samples=5
    )
    low, high = run.cathode.share_range("O2")
    assert high[-1] - low[-1] > 0.3
    assert high[1] == 0.0


def test_a_stage_that_sets_the_supply_or_pours_in_salt_has_ranges_of_its_own():
    """Thin brine gives oxygen and chlorine, strong brine chlorine alone, whatever the factors."""
    run = fp.Cell("NaCl", concentration_mol_dm3=0.01, current_A=0.03).run(
        stages=[fp.Stage(1), fp.Stage(1, current_A=0.01), fp.Stage(1, add={"NaCl": (20.0, 5.0)})],
        samples=10,
    )
    low, high = run.anode.share_range("O2")
    width = high - low
    share = run.anode.share("O2")
    assert ((low <= share) & (share <= high)).all()
    assert width[2] > 0.3
    assert width[-1] < 0.1
    assert len(run.anode._uncertainty.changed) == len(run.changes) > 0


def test_a_run_that_boils_has_ranges_as_far_as_it_goes():
    run = fp.Cell("HCl", supply_V=30.0, supply_limit_A=5.0).run(minutes=20, samples=5)
    assert run.time_s[-1] < 1200
    low, high = run.anode.amount_range_mol("O2")
    assert low.shape == high.shape == run.time_s.shape
    assert low[-1] <= run.anode.amount_mol("O2")[-1] <= high[-1]
    assert low[-1] < high[-1]


def test_a_product_that_only_another_constant_makes_has_a_range_too():
    changes = (Change(OXYGEN, 10.0),)
    known = Uncertainty(None, 0.0, (), {}, samples=1, changes=changes)
    known.__dict__["changed"] = ((made(0.4, 2.0), None),)
    low, high = known.band(0, np.array([0.0]), lambda each: each.shares["O2"])
    assert (low[0], high[0]) == (0.0, 0.4)


def test_carbon_burns_as_a_share_of_the_oxygen_whatever_oxygens_constant_is():
    run = fp.Cell("CuSO4", current_A=0.03).run(minutes=2, samples=3)
    burnt, oxygen = run.anode.share("CO2")[-1], run.anode.share("O2")[-1]
    for change, (_, at_anode) in zip(run.changes, run.anode._uncertainty.changed, strict=True):
        if change.constant == OXYGEN:
            ratio = at_anode.shares["CO2"][-1] / at_anode.shares["O2"][-1]
            assert ratio == pytest.approx(burnt / oxygen, rel=0.05)
    low, high = run.anode.share_range("O2")
    assert high[-1] - low[-1] < 0.05


def test_no_rod_can_have_lost_a_deposit_that_it_began_without():
    run = fp.Cell("Pb(NO3)2", current_A=0.05).run(
        stages=[fp.Stage(1), fp.Stage(1, swapped=True)], samples=5
    )
    assert run.anode.mass_g("PbO2").max() > 0
    assert run.anode.mass_range_g("PbO2")[0].min() == 0.0


EXCHANGE = [row for row in data.rows("kinetics") if row["quantity"] == "exchange current density"]


@pytest.mark.parametrize("row", EXCHANGE, ids=lambda r: f"{r['reaction']}, {r['material']}")
def test_every_exchange_current_density_has_the_factor_that_its_caveat_names(row):
    factor = ExchangeRow(row["reaction"], row["material"]).uncertainty_factor
    if "factor of a hundred" in row.caveat:
        assert factor == 100
    elif "ood to a factor of ten" in row.caveat:
        assert factor == 10
    assert 1 <= factor <= 100


def test_every_factor_is_of_a_row_and_explained():
    rows = {(row["reaction"], row["material"]) for row in EXCHANGE} | {("any", "any")}
    for row in data.rows("kinetics"):
        if row["quantity"] == "uncertainty factor":
            assert (row["reaction"], row["material"]) in rows
            assert len(row.caveat) > 10


def changes_of(solution, concentration_mol_dm3):
    cell = fp.Cell(solution, concentration_mol_dm3=concentration_mol_dm3, lamp=fp.Lamp(6.0, 0.06))
    run = cell.run(minutes=10, samples=41)
    return {(change.constant.reaction, change.factor) for change in run.changes}


def test_what_matters_only_at_the_first_instant_is_not_worth_a_run():
    """Hydrogen ions in iron(II) sulfate are used up at the face within a second."""
    reactions = {reaction for reaction, _ in changes_of("FeSO4", 0.5)}
    assert reactions == {"iron deposited", "hydrogen from water"}


def test_reactions_that_share_a_supply_compete_for_it_even_at_the_limiting_current():
    assert ("copper(I) formed", 100.0) in changes_of("CuCl2", 0.5)
