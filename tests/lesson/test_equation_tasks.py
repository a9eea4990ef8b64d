"""Equations that are typed: every right form is accepted, every wrong one refused and told where."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fizzplate.chemistry import half_equation, parse_formula
from fizzplate.lesson.equations.equation_judge import judge, known_species, normalise
from fizzplate.lesson.equations.equation_tasks import half_task, net_of, overall_task

sys.path.insert(0, str(Path(__file__).parent))
from equation_forms import accepted, refused, tasks  # beside this file

FAMILIES = tasks()


@pytest.mark.parametrize("family", list(FAMILIES))
def test_sixty_right_forms_are_accepted(family):
    forms = list(dict.fromkeys(accepted(FAMILIES[family])))
    assert len(forms) >= 60
    for text, code in forms:
        assert judge(text, FAMILIES[family]).code == code, text


@pytest.mark.parametrize("family", list(FAMILIES))
def test_sixty_wrong_forms_are_refused(family):
    forms = list(dict.fromkeys(refused(FAMILIES[family])))
    assert len(forms) >= 60
    for text in forms:
        verdict = judge(text, FAMILIES[family])
        assert verdict.code not in {"right", "multiple", "cancel"}, text
        assert verdict.sentences[0], text


@given(st.sampled_from(sorted(FAMILIES)), st.integers(1, 40))
@settings(max_examples=100, deadline=None)
def test_any_multiple_is_recognised(family, times):
    task = FAMILIES[family]
    net = task.accepted[0]
    sides = (
        " + ".join(f"{abs(n) * times}{s}" for s, n in net.items() if (n > 0) == made)
        for made in (False, True)
    )
    verdict = judge(" -> ".join(sides), task)
    assert verdict.code == ("right" if times == 1 else "multiple")
    if times > 1:
        assert str(times) in verdict.sentences[0]


@given(st.sampled_from(sorted(FAMILIES)), st.data(), st.integers(1, 3))
@settings(max_examples=150, deadline=None)
def test_any_single_change_is_refused_and_said_where(family, data, by):
    task = FAMILIES[family]
    net = dict(task.accepted[0])
    species = data.draw(st.sampled_from(sorted(net)))
    net[species] += by if net[species] > 0 else -by
    sides = (
        " + ".join(f"{abs(n)}{s}" for s, n in net.items() if (n > 0) == made)
        for made in (False, True)
    )
    verdict = judge(" -> ".join(sides), task)
    assert verdict.code == "unbalanced"
    said = " ".join(verdict.sentences)
    elements = set(parse_formula(species).elements)
    assert all(f"{element} atoms" in said for element in elements)
    assert ("Charge" in said) == (parse_formula(species).charge != 0)


@pytest.mark.parametrize(
    ("text", "product", "code", "words"),
    [
        ("2H+ + 2e- -> H2", "H2", "right", "balance"),
        ("2H2O + 2e- -> H2 + 2OH-", "H2", "right", "balance"),
        ("4OH- - 4e- -> O2 + 2H2O", "O2", "right", "balance"),
        ("H+ + e- -> H2", "H2", "unbalanced", "H atoms: 1 on the left, 2 on the right."),
        ("2H+ -> H2", "H2", "unbalanced", "Charge: 2+ on the left, 0 on the right."),
        ("H2 -> 2H+ + 2e-", "H2", "reversed", "wrong way round"),
        ("2H+ + 2e- + H2O -> H2 + H2O", "H2", "cancel", "H2O stands on both sides"),
        ("Cu2+ + 2e- -> Cu", "H2", "other", "does not make hydrogen"),
        (
            "cu2+ + 2e- -> Cu",
            "Cu",
            "capitals",
            "Right but for capital and small letters: write Cu2+.",
        ),
        ("2h+ + 2E- -> H2", "H2", "capitals", "write H+, e-."),
        ("2h+ -> H2", "H2", "unbalanced", "Charge: 2+ on the left, 0 on the right."),
        ("cux2+ + 2e- -> Cu", "Cu", "unread", "Did you mean Cu?"),
        ("Cu+2 + 2e- = Cu", "Cu", "right", "balance"),
        ("Cu++ + 2e to Cu", "Cu", "right", "balance"),
        ("Cu(2+) + 2e(-) ⇌ Cu", "Cu", "right", "balance"),
        ("Cu^(+2)(aq) + 2e- ---> Cu(s)", "Cu", "right", "balance"),
        ("Cu 2+ + 2 e - gives Cu", "Cu", "right", "balance"),
        ("4HO- -> O2 + 2H2O + 4e-", "O2", "right", "balance"),
        ("CuCl2 + 2e- -> Cu + 2Cl-", "Cu", "right", "balance"),
        ("Cu2+ + 4e- -> Cu + 2e-", "Cu", "cancel", "e- stands on both sides"),
        ("2H+ + 2e-", "H2", "unread", "one arrow"),
        ("   ", "H2", "empty", "first"),
        ("Cl- -> Cl-", "Cu", "other", "Nothing changes"),
        ("Cl- → ½Cl2 + e-", "Cl2", "right", "balance"),
        ("Cl- -> 1/2 Cl2 + e", "Cl2", "right", "balance"),
        ("3Cl- -> 3/2Cl2 + 3e-.", "Cl2", "right", "balance"),
        ("2Cl- > Cl2 + 2e", "Cl2", "right", "balance"),
        ("4Cl- ➝ 2Cl2 + 4e-", "Cl2", "multiple", "divided by 2"),
        ("Cl- -> ½Cl2 + ½e-", "Cl2", "unbalanced", "Charge: 1− on the left, 1/2− on the right."),
        ("2CI- -> CI2 + 2e-", "Cl2", "unread", "“CI-”. Did you mean Cl-?"),
        ("2C1- -> Cl2 + 2e-", "Cl2", "unread", "“C1-”. Did you mean Cl-?"),
        ("2\u0421l- -> Cl2 + 2e-", "Cl2", "unread", "Did you mean Cl-?"),
        ("Cl- -> ½Zz₂(g) + e-", "Cl2", "unread", "“Zz₂(g) + e-”"),
        ("½Zz^2+(s) → Cl2", "Cl2", "unread", "“Zz^2+(s)”"),
    ],
)
def test_a_verdict_says_what_is_wrong_and_where(text, product, code, words):
    verdict = judge(text, half_task(half_equation(product), product, "cathode"))
    assert verdict.code == code
    assert words in " ".join(verdict.sentences)


def test_electrodes_that_undo_each_other_have_no_overall_equation():
    there, back = half_equation("Cu"), half_equation("Cu2+", source="Cu")
    assert overall_task(there, "Cu", back, "Cu2+") is None


def test_the_last_hint_is_a_right_answer():
    for task in FAMILIES.values():
        assert judge(task.hints[-1], task).code == "right"


def test_very_long_and_hidden_input_is_handled():
    task = FAMILIES["Cu"]
    assert judge("Cu2+ + 2e- -> Cu" + " " * 10_000, task).code == "right"
    assert judge("\u202eCu2+ + 2e- \u200b-> Cu", task).code == "right"
    assert judge("+" * 10_000, task).code == "unread"
    assert len(normalise("x" * 10_000)) == 200


def test_every_species_of_an_equation_is_known():
    known = known_species()
    assert all(s in known for task in FAMILIES.values() for net in task.accepted for s in net)
    assert net_of(half_equation("Cu")) == {"Cu2+": -1, "e-": -2, "Cu": 1}


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("2NaCl + 2H2O -> 2NaOH + H2 + Cl2", "right"),
        ("2HCl -> H2 + Cl2", "right"),
        ("2Na+ + 2Cl- + 2H2O -> 2Na+ + 2OH- + H2 + Cl2", "right"),
        ("2H+ + 2e- + 2Cl- -> H2 + Cl2 + 2e-", "cancel"),
        ("MgCl2 + 2H2O -> Mg(OH)2 + H2 + Cl2", "right"),
        ("NaCl + H2O -> NaOH + H2 + Cl2", "unbalanced"),
        ("H2 + Cl2 -> 2HCl", "reversed"),
        ("2H2O -> 2H2 + O2", "other"),
    ],
)
def test_an_overall_equation_may_hold_whole_formulae_and_spectators_but_no_electrons(text, code):
    task = overall_task(half_equation("H2"), "H2", half_equation("Cl2"), "Cl2")
    assert judge(text, task).code == code


@pytest.mark.parametrize(
    ("text", "anode", "code", "in_place"),
    [
        ("2H2O -> 2H2 + O2", "O2", "right", True),
        ("4H+ + 4OH- -> 2H2 + O2 + 2H2O", "O2", "right", True),
        ("6H2O -> 2H2 + 4OH- + O2 + 4H+", "O2", "right", True),
        ("2H+ + 4OH- -> H2 + O2 + 2H2O", "O2", "unbalanced", True),
        ("2H2 + O2 + 2H2O -> 4H+ + 4OH-", "O2", "other", False),
        ("2H+ + 2e- + 2Br- -> H2 + Br2 + 2e-", "Br2", "cancel", True),
        ("2H+ + 4Br- -> H2 + 2Br2 + 2e-", "Br2", "other", True),
        ("2H+ + 2Br- -> H2 + Br2 + 2e-", "Br2", "unbalanced", True),
        ("2HBr -> H2 + Br2", "Br2", "absent", True),
        ("HBr -> H2 + Br2", "Br2", "unbalanced", True),
        ("2KBr + 2H2O -> H2 + Br2 + 2KOH", "Br2", "right", True),
    ],
)
def test_an_overall_equation_is_in_place_before_its_electrons_cancel(text, anode, code, in_place):
    ion = {"O2": None, "Br2": "Br-"}[anode]
    oxidation = half_equation(anode, source=ion) if ion else half_equation(anode)
    verdict = judge(text, overall_task(half_equation("H2"), "H2", oxidation, anode))
    assert (verdict.code, verdict.in_place) == (code, in_place)
