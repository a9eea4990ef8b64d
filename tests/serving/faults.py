"""Break something while a class works, and tell what that did to everyone else.

    python tests/serving/faults.py [name ...]          all of them without a name; --list names them
    python tests/serving/faults.py endurance minutes=60 learners=30

Each fault has a server of its own. Some learners go on changing their cell before it, during it and
after it; what is printed is what failed, how long their new cells took in each phase, what the server
and all that it started held of memory (proportional set size) before anyone came and after everyone
had left, and how many kernels and open files remained. "NO" stands beside what misses its aim: a
failure among those who had nothing to do with the fault, or memory that is not back within a tenth.
"""

from __future__ import annotations

import asyncio
import contextlib
import os
import resource
import signal
import subprocess
import sys
import tempfile
import textwrap
from pathlib import Path
from urllib.parse import urlsplit

from aftermath import Found, newcomer, settled_mb, waited, working_class
from floods import FLOODS, class_of
from learners import Learner, RefusedError
from malformed import malformed_frames
from memory import Family, alive
from servers import COMMAND, fizzplate

NOTICED_S = 60
DEFAULT_CLASS_SIZE = 10
LONE_KERNEL_S = 700  # by then a kernel without a page has been ended


async def kernel_killed(others=3, server=None):
    """One learner's kernel is killed."""
    found = Found("one learner's kernel is killed")
    with class_of(DEFAULT_CLASS_SIZE, server) as (process, address):
        family = Family(process.pid)
        async with working_class(found, address, family, others) as class_:
            async with Learner(address) as victim:
                await victim.open()
                class_.begin("during")
                family.of_kernel(victim.kernel).kill()
                found.figures["told after, s"] = await victim.loss()
                await victim.close()
            await newcomer(found, address, "opened again in, s")
    return found


def warm_parent(family):
    """Find the process that kernels are forked from."""
    for member in family.members():
        is_ours = member != family.head and member.ppid() == family.head.pid
        if is_ours and "forking.parent" in " ".join(member.cmdline()):
            return member
    raise LookupError("no warm parent")


async def parent_killed(others=3, comers=4, server=None):
    """The process that kernels are forked from is killed, before and while more learners come."""
    found = Found("the parent that kernels are forked from is killed")
    with class_of(DEFAULT_CLASS_SIZE, server) as (process, address):
        family = Family(process.pid)
        async with working_class(found, address, family, others) as class_:
            class_.begin("during")
            warm_parent(family).kill()
            await newcomer(found, address, "first newcomer, s")
            coming = [
                asyncio.create_task(newcomer(found, address, f"newcomer {k + 1}, s"))
                for k in range(comers)
            ]
            warm_parent(family).kill()
            await asyncio.gather(*coming)
    return found


def small_disk(folder, size_mb):
    """Give a command that sees a small file system of its own in a folder, or None if not allowed."""
    rights = ["unshare", "-m"] if os.geteuid() == 0 else ["unshare", "-Urm"]
    script = f'mount -t tmpfs -o size={size_mb}m tmpfs "{folder}" && exec "$@"'
    inside = [*rights, "sh", "-c", script, "sh"]
    try:
        subprocess.run([*inside, "true"], check=True, capture_output=True, timeout=30)
    except (OSError, subprocess.SubprocessError):
        return None
    return [*inside, *COMMAND]


def fill(folder):
    """Write until nothing more can be written."""
    path = folder / "filling"
    with path.open("wb", buffering=0) as file:
        for size in (1 << 16, 1):
            try:
                while file.write(bytes(size)):
                    pass
            except OSError:
                continue
    return path


@contextlib.contextmanager
def on_a_small_disk(*options, size_mb=16, log=None):
    """Start the command with a small file system for its temporary folder, where one may be mounted.

    Gives the process and the address, and the folder as the process sees it, or None.
    """
    with tempfile.TemporaryDirectory(prefix="") as folder:  # short: sockets' paths may not be long
        command = small_disk(folder, size_mb)
        environment = {"TMPDIR": folder} if command else {}
        with fizzplate(*options, command=command, log=log, **environment) as (process, address):
            there = Path(f"/proc/{process.pid}/root{folder}")
            yield (process, address), there if command else None


async def disk_full(others=3, size_mb=16, server=None, folder=None):
    """The temporary folder is full, and then not any more."""
    found = Found("the disk of the temporary folder is full")
    with contextlib.ExitStack() as started:
        if server is None:
            server, folder = started.enter_context(on_a_small_disk(size_mb=size_mb))
        process, address = server
        family = Family(process.pid)
        async with working_class(found, address, family, others) as class_:
            class_.begin("during")
            if folder:
                found.figures["how"] = "a small file system, filled"
                filling = fill(folder)
            else:
                found.figures["how"] = "no file may grow (no file system may be mounted here)"
                none = (0, resource.RLIM_INFINITY)
                for member in family.members():
                    resource.prlimit(member.pid, resource.RLIMIT_FSIZE, none)
            async with Learner(address) as learner:
                try:
                    said = f"works after {await learner.open():.2f} s"
                    await learner.close()
                except RefusedError as refusal:
                    said = f"is told: {refusal.status}"
                except (OSError, TimeoutError) as failure:
                    said = f"fails: {failure!r}"
                    found.failures.append(failure)
            found.figures["newcomer while it is full"] = said
            await class_.reach("full")
            if folder:
                filling.unlink()
            else:
                endless = (resource.RLIM_INFINITY, resource.RLIM_INFINITY)
                for member in family.members():
                    resource.prlimit(member.pid, resource.RLIMIT_FSIZE, endless)
            await newcomer(found, address, "newcomer when there is room, s")
    return found


async def server_restarted(others=3, signals=(signal.SIGTERM, signal.SIGKILL), server=None):
    """The server is ended, politely and then at once, and started again on the same port."""
    found = Found("the server is ended and started again on its port")
    for number in signals:
        with class_of(DEFAULT_CLASS_SIZE, server) as (process, address):
            family = Family(process.pid)
            async with Learner(address) as first:
                await first.open()
                await first.close()
            before_mb = await settled_mb(family)
            class_ = [Learner(address) for _ in range(others)]
            await asyncio.gather(*(learner.open() for learner in class_))
            members = family.members()
            process.send_signal(number)
            noticed = await asyncio.gather(*(learner.loss() for learner in class_))
            await asyncio.to_thread(process.wait, NOTICED_S)
            name = signal.Signals(number).name
            found.figures[f"{name}: noticed after, s"] = max(noticed)
            gone = await waited(lambda: not any(map(alive, members)), NOTICED_S)  # noqa: B023
            found.figures[f"{name}: processes left"] = sum(map(alive, members))
            if not gone:
                found.failures.append(RuntimeError("processes outlived their server"))
                for member in filter(alive, members):
                    member.kill()
        with fizzplate(port=urlsplit(address).port) as (again, same):
            assert urlsplit(same).netloc == urlsplit(address).netloc
            family = Family(again.pid)
            opened = await asyncio.gather(*(learner.open() for learner in class_))
            found.figures[f"{name}: last works again after, s"] = max(opened)
            await asyncio.gather(*(learner.close() for learner in class_))
            found.before_mb, found.after_mb = before_mb, await settled_mb(family)
    return found


CLOCK = """
import datetime, os, time
real_now, real_time, real_class = datetime.datetime.now, time.time, datetime.datetime
def jump():
    try:
        with open(os.environ["CLOCK_JUMP"]) as file:
            return float(file.read() or 0)
    except OSError:
        return 0.0
class AnyDate(type):
    def __instancecheck__(cls, value):
        return isinstance(value, real_class)
class Shifted(real_class, metaclass=AnyDate):
    @classmethod
    def now(cls, tz=None):
        return real_now(tz) + datetime.timedelta(seconds=jump())
    @classmethod
    def utcnow(cls):
        return cls.now(datetime.timezone.utc).replace(tzinfo=None)
datetime.datetime = Shifted
time.time = lambda: real_time() + jump()
"""


async def clock_jump(others=3, jumps_s=(7200.0, -7200.0), patience_s=LONE_KERNEL_S, command=None):
    """The machine's clock jumps forwards and back; kernels without a page still end, others do not."""
    found = Found("the clock jumps two hours on, and back")
    with tempfile.TemporaryDirectory(prefix="clock-") as folder:
        jump = Path(folder, "jump")
        Path(folder, "sitecustomize.py").write_text(textwrap.dedent(CLOCK), encoding="utf-8")
        environment = {"PYTHONPATH": folder, "CLOCK_JUMP": str(jump)}
        with fizzplate(command=command, **environment) as (process, address):
            family = Family(process.pid)
            async with working_class(found, address, family, others) as class_:
                offset_s = 0.0
                for jump_s in jumps_s:
                    async with Learner(address) as crashed:
                        await crashed.open()
                        of_crashed = family.of_kernel(crashed.kernel)
                    offset_s += jump_s
                    phase = f"after a jump of {jump_s:+.0f} s"
                    class_.begin(phase)
                    jump.write_text(str(offset_s), encoding="ascii")
                    await newcomer(found, address, f"newcomer {phase}, s")
                    began = asyncio.get_running_loop().time()
                    gone = await waited(lambda: not alive(of_crashed), patience_s)  # noqa: B023
                    taken_s = asyncio.get_running_loop().time() - began
                    name = f"a crashed tab's kernel {phase}"
                    found.figures[name] = f"ended within {taken_s:.0f} s" if gone else "still there"
                    if not gone:
                        found.failures.append(RuntimeError(f"{name} is still there"))
    return found


def main(arguments):
    known = {
        each.__name__: each
        for each in (
            *(kernel_killed, parent_killed, disk_full, server_restarted, clock_jump),
            *(malformed_frames, *FLOODS),
        )
    }
    if "--list" in arguments:
        for name, fault in known.items():
            print(f"{name}: {fault.__doc__}")
        return
    sizes = {
        key: float(size) if "." in size else int(size)
        for key, size in (each.split("=") for each in arguments if "=" in each)
    }
    for name in [each for each in arguments if "=" not in each] or known:
        asyncio.run(known[name](**sizes)).tell()


if __name__ == "__main__":
    main(sys.argv[1:])
