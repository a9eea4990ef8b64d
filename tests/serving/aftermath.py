"""What something that happened to a server did to those who were working on it."""

from __future__ import annotations

import asyncio
from contextlib import asynccontextmanager
from dataclasses import dataclass, field

from bystanders import Bystanders
from learners import Learner, RefusedError
from memory import MB
from servers import wait_until

BACK = 0.10  # memory returns to where it was within this share
SETTLE_S = 240
LET_GO_S = 60  # by then the server has closed idle connections and given memory back
IDLE = 0.03  # of a processor, used in a second, is nothing being worked out


@dataclass
class Found:
    """What a fault did.

    Attributes
    ----------
    fault
        Its name.
    failures
        What went wrong for those who had nothing to do with it.
    answers
        Of the others: for each phase how many new cells, the median and 95th percentile of seconds.
    figures
        What else there is to tell, in order.
    before_mb, after_mb
        Memory before anyone came and after everyone had left.
    """

    fault: str
    failures: list = field(default_factory=list)
    answers: dict = field(default_factory=dict)
    figures: dict = field(default_factory=dict)
    before_mb: float = 0.0
    after_mb: float = 0.0

    @property
    def memory_is_back(self):
        """Whether memory has returned to where it was, within a tenth."""
        return self.after_mb <= self.before_mb * (1 + BACK)

    def tell(self):
        """Print it."""
        print(f"\n{self.fault}")
        for name, value in self.figures.items():
            print(f"  {name}: {value:.2f}" if isinstance(value, float) else f"  {name}: {value}")
        for phase, (count, median, high) in self.answers.items():
            print(f"  others {phase}: {count} new cells, {median:.2f} s, 95 % within {high:.2f} s")
        change = 100 * (self.after_mb / self.before_mb - 1) if self.before_mb else 0.0
        back = "" if self.memory_is_back else "  NO"
        print(
            f"  memory: {self.before_mb:.0f} MB, {self.after_mb:.0f} MB after ({change:+.0f} %){back}"
        )
        print(f"  failures: {len(self.failures)}{'  NO' if self.failures else ''}")
        for failure in self.failures[:5]:
            print(f"    {failure!r}")


async def settled_mb(family, kernels=0, patience_s=SETTLE_S, let_go_s=0):
    """Wait until no more kernels than that are there and nothing is being worked out; weigh it."""
    await waited(lambda: family.kernels() <= kernels, patience_s)
    await asyncio.sleep(let_go_s)
    used = [-1.0, family.processor_s()]
    while abs(used[-1] - used[-2]) > IDLE:
        await asyncio.sleep(1.0)
        used.append(family.processor_s())
    return family.pss_bytes() / MB


async def waited(condition, patience_s, pause_s=0.1):
    """Wait until something holds while learners go on; say whether it came to hold."""
    return await asyncio.to_thread(wait_until, condition, patience_s, pause_s)


@asynccontextmanager
async def working_class(found, address, family, others, settle_s=SETTLE_S, let_go_s=0):
    """Have some learners at work; weigh the server before they come and after they have left."""
    async with Learner(address) as first:  # whatever is loaded late is loaded
        await first.open()
        await first.close()
    found.before_mb = await settled_mb(family)
    files = family.files()
    async with Bystanders(address, others) as class_:
        await class_.reach("before")
        yield class_
        await class_.reach("after")
        found.failures += class_.failures
        found.answers = class_.told()
    found.after_mb = await settled_mb(family, patience_s=settle_s, let_go_s=let_go_s)
    found.figures["kernels left"] = family.kernels()
    found.figures["open files of the server"] = f"{files}, {family.files()} after"


async def newcomer(found, address, name):
    """Let one more learner open the page and close it again."""
    async with Learner(address) as learner:
        try:
            found.figures[name] = await learner.open()
            await learner.close()
        except (OSError, RefusedError) as failure:
            found.failures.append(failure)
