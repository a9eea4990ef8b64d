"""Which step a cell tries next."""

from fizzplate.cell.solver.step_choice import MAX_GROWTH, SHORTER, Progress


def tried(**given):
    """Return a cell that has tried a step of a second after two accepted ones."""
    cell = Progress(0, [2.0, 1.0], step_s=1.0, **given)
    cell.begin(100.0, 10.0)
    return cell


def test_a_lost_step_is_tried_from_the_other_state_before_it_is_cut():
    cell = tried()
    cell.give_up(overshot=False)
    assert (cell.from_last, cell.step_s) == (True, 1.0)
    cell.begin(100.0, 10.0)
    cell.give_up(overshot=False)
    assert cell.step_s == SHORTER


def test_a_step_that_leads_below_zero_is_cut_at_once():
    cell = tried()
    cell.give_up(overshot=True)
    assert (cell.from_last, cell.step_s) == (False, SHORTER)


def test_the_first_step_of_a_stage_has_no_other_state_to_start_from():
    cell = Progress(0, [0.0])
    cell.begin(100.0, 10.0)
    cell.give_up(overshot=False)
    assert not cell.from_last
    assert cell.step_s < cell.taken_s


def test_a_step_grows_only_where_the_last_was_solved_easily():
    grown = {}
    for iterations in (1, 3, 4, 6, 9):
        cell = tried()
        cell.accept(1e-6, iterations)
        grown[iterations] = cell.step_s
    assert grown[1] == grown[3] == MAX_GROWTH
    assert MAX_GROWTH > grown[4] > grown[6] == 1.0 > grown[9]


def test_a_step_takes_patience_at_a_start_and_once_shorter_ones_have_failed():
    assert Progress(0, [1.0, 0.0]).takes_patience
    cell = tried()
    cell.times_s.insert(0, 3.0)
    assert not cell.takes_patience
    for _ in range(3):
        cell.begin(100.0, 10.0)
        cell.give_up(overshot=False)
    assert cell.takes_patience
    cell.begin(100.0, 10.0)
    cell.accept(0.1, 3)
    assert not cell.takes_patience
