"""Which step a cell tries next: how long, of which order, and from where its iterations start."""

from __future__ import annotations

from dataclasses import dataclass

FIRST_STEP_S = 1e-4
MIN_STEP_S = 1e-9
MAX_STEP_ATTEMPTS = 1000  # of steps in a stage; a usual run takes fifty
MAX_ORDER = 3
MAX_GROWTH = 2.2
MIN_GROWTH = 0.3
SAFETY = 0.85
EASY_ITERATIONS = 3  # of a step after which the next may be as much longer as its error allows
GROWTH_AFTER_MORE = {4: 1.3, 5: 1.0, 6: 1.0}
GROWTH_AFTER_MANY = 0.6
SHORTER = 0.25  # of a step that could not be solved
MAX_OVERSHOTS = 2  # in a row, before the first order is tried
MAX_QUICK_LOSSES = 2  # tries given up in a row before iterations go on for as long as they may
MUCH_SHORTER = 0.25
MIN_HISTORY = 2  # points: with no more of them a step may have far to go, however short it is
JUMP = 0.5  # of the first try's error in a much shorter one: what hardly falls is a jump
MOST_CARE = 16  # steps of the first order in a row after a higher one has overshot again and again


@dataclass(slots=True)
class Progress:
    """How far one cell has come, and the step that it tries."""

    place: int  #: among the cells at the start
    times_s: list[float]  #: of the accepted points, latest first
    step_s: float = FIRST_STEP_S
    taken_s: float = 0.0
    highest: int = MAX_ORDER
    #: error and length of the first try, if that was too far off
    rejected: tuple[float, float] | None = None
    careful: int = 0  #: steps that are still taken with the first order
    care: int = 1  #: how many after the next that fails with a higher one
    lost: int = 0  #: tries in a row that were given up
    overshot: int = 0  #: tries in a row that were given up because they led below zero
    from_last: bool = False  #: whether iterations start from the last state, not the predicted
    again: bool = False  #: whether this try is the same as the last, started from the other state
    order: int = 1
    points: int = 1
    steps: int = 0
    tries: int = 0

    @property
    def is_stuck(self) -> bool:
        """Whether no step can be solved, or too many are needed."""
        return self.step_s < MIN_STEP_S or self.tries >= MAX_STEP_ATTEMPTS

    @property
    def takes_patience(self) -> bool:
        """Whether a shorter step would not help: at a start or a kink, and where shorter ones have failed."""
        return len(self.times_s) <= MIN_HISTORY or self.lost > MAX_QUICK_LOSSES

    def begin(self, end_s: float, max_step_s: float) -> None:
        """Begin the next try, which ends no later than ``end_s``."""
        remaining = end_s - self.times_s[0]
        self.step_s = min(self.step_s, max_step_s)
        self.taken_s = remaining if self.step_s > 0.999 * remaining else self.step_s
        self.tries += 1
        self.order = min(self.highest, len(self.times_s))
        # the predictor runs through one point more than the formula needs, where there is one
        self.points = min(self.order + 1, len(self.times_s))

    def give_up(self, *, overshot: bool) -> None:
        """Try a lost step again: from the other state, then a shorter one, or the first order.

        Where a front crosses a node the prediction is far off, and the last state is nearer. The first
        order never leads below zero, as a higher one may (``overshot``).
        """
        self.lost += 1
        if not (self.again or overshot) and len(self.times_s) > 1:
            self.again, self.from_last = True, not self.from_last
            self.step_s = self.taken_s
            return
        self.again = False
        self.step_s = SHORTER * self.taken_s
        self.overshot = self.overshot + 1 if overshot else 0
        if self.overshot > MAX_OVERSHOTS and self.order > 1:
            self.be_careful()
            self.step_s = self.taken_s

    def be_careful(self) -> None:
        """Go on with the first order for a while, the longer the more often a higher one has failed."""
        self.highest = 1
        self.careful, self.care = self.care, min(2 * self.care, MOST_CARE)

    def refuses(self, error: float) -> bool:
        """Return whether the step tried is too far off; if so, choose a shorter one.

        ``error`` is relative to what is allowed.
        """
        taken = self.taken_s
        if not (error > 1.0 and taken > 10 * MIN_STEP_S):
            self.rejected, self.again = None, False
            return False
        self.step_s = taken * max(0.2, min(self._factor(error), 0.9))
        if self.rejected is None:
            self.rejected = (error, taken)
        first_error, first_s = self.rejected
        if taken < MUCH_SHORTER * first_s:
            self.rejected = (error, taken)
            if error > JUMP * first_error:
                self.forget()
                self.step_s = MUCH_SHORTER * taken
        return True

    def begin_after_kink(self) -> None:
        """Try the step again, or half of it, without the history before a kink."""
        self.step_s = self.taken_s if len(self.times_s) > 1 else self.taken_s * 0.5
        self.forget()

    def forget(self) -> None:
        """Drop the history before a kink or a jump: it says nothing about what follows."""
        del self.times_s[1:]

    def accept(self, error: float, iterations: int) -> None:
        """Accept the step tried, which took so many iterations, and choose the next."""
        taken = self.taken_s
        self.steps += 1
        self.lost = 0
        if self.order > 1:
            self.care = max(self.care // 2, 1)
        self.careful = max(self.careful - 1, 0)
        self.highest = 1 if self.careful else MAX_ORDER
        self.times_s = [self.times_s[0] + taken, *self.times_s[:MAX_ORDER]]
        # where the iteration has had to work hard a longer step would not be solved
        factor = min(self._factor(error), _growth_after(iterations))
        if taken == self.step_s or factor < 1:
            # never below ten smallest steps, so that a jump cannot stop the run
            self.step_s = max(taken * max(MIN_GROWTH, factor), 10 * MIN_STEP_S)

    def _factor(self, error: float) -> float:
        """Return by how much a step may be longer than the one tried, by its error."""
        return float(SAFETY * (1.0 / max(error, 1e-10)) ** (1 / (self.order + 1)))


def _growth_after(iterations: int) -> float:
    """Return by how much a step may be longer than one that was solved in so many iterations."""
    if iterations <= EASY_ITERATIONS:
        return MAX_GROWTH
    return GROWTH_AFTER_MORE.get(iterations, GROWTH_AFTER_MANY)
