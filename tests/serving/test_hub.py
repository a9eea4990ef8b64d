"""More than one server: the hub's files are sound, and two learners open Demonstrate through it."""

from __future__ import annotations

import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from contextlib import redirect_stdout
from io import StringIO
from types import SimpleNamespace

import psutil
import pytest
import yaml
from packaging.requirements import Requirement
from packaging.version import Version
from tests.browser.visit import LOADING_MS
from tests.printed import figures
from tests.serving.conftest import WIDGET
from tests.serving.hub_host import LINK, hub, open_all, servers, tell
from tests.serving.shared_host import BINDER, ROOT, environment, in_chromium

HUB = BINDER / "hub"
LAPTOP = {"width": 1280, "height": 800}
CHART_KINDS = {"text": str, "number": (int, float), "choice": bool, "list": list, "any": object}


@pytest.fixture(scope="module")
def lesson(tmp_path_factory):
    """Have learners open the page: one without a browser, one in a browser; then stop the hub."""
    built = environment(tmp_path_factory.getbasetemp())
    with hub(built, tmp_path_factory.mktemp("hub")) as (address, process):
        with ThreadPoolExecutor(1) as pool:  # other tests keep an event loop in this thread
            met = pool.submit(open_all, address, ["learner0"], 1).result()
        seen = in_chromium(lambda browser: [look(browser, address, "class0")])
        own = servers(psutil.Process(process.pid))
        with redirect_stdout(StringIO()) as printed:
            tell(met, process, 1)
        running = psutil.Process(process.pid).children(recursive=True)
    gone, left = psutil.wait_procs(running, timeout=30)
    return SimpleNamespace(
        met=met, seen=seen, own=own, gone=gone, left=left, printed=printed.getvalue()
    )


def look(browser, address, name):
    """Follow the class's link, sign in, switch on; tell what was complained of and asked for."""
    context = browser.new_context(viewport=LAPTOP)
    page = context.new_page()
    page.goto(address + LINK + "?v=1&cells=CuSO4&ask=off")
    page.get_by_label("Username").fill(name)
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(f"**/user/{name}/voila/render/**", timeout=2 * LOADING_MS)
    errors, requested_urls = [], []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("request", lambda request: requested_urls.append(request.url))
    page.get_by_role("button", name="Switch on").click(timeout=2 * LOADING_MS)
    page.get_by_role("button", name="Switch off").wait_for(timeout=LOADING_MS)
    side_card = page.get_by_role("article", name="Cathode")
    side_card.get_by_text("copper").first.wait_for(timeout=LOADING_MS)
    foreign = [
        each
        for each in requested_urls
        if not re.match(r"(http|ws)://127\.0\.0\.1:|blob:|data:", each)
    ]
    others = context.request.get(f"{address}/user/learner0/voila/render/demonstrate.ipynb").status
    context.close()
    return SimpleNamespace(
        errors=errors, requested_urls=requested_urls, foreign=foreign, others=others
    )


def test_each_learner_gets_the_page_and_a_program_behind_it(lesson):
    assert len(lesson.met) == 1
    for each in lesson.met:
        assert WIDGET in each.page
        assert "import fizzplate" not in each.page
        assert each.widgets > 10


def test_in_a_browser_the_cell_works_and_asks_no_other_host(lesson):
    for each in lesson.seen:
        assert each.errors == []
        assert each.requested_urls
        assert each.foreign == []


def test_a_learner_cannot_open_the_server_of_another(lesson):
    assert [each.others for each in lesson.met] == [200]  # the own
    assert [each.others for each in lesson.seen] == [403]


def test_each_learner_has_a_server_of_their_own(lesson):
    assert len(lesson.own) == 2


def test_what_a_learner_waits_and_takes_is_printed(lesson):
    """By what ``hub_host.py`` prints of itself."""
    median_s, last_s = *figures(lesson.printed, "median "), *figures(lesson.printed, "last ")
    assert median_s <= last_s
    (learner_MB,) = figures(lesson.printed, "a learner, MB: ")
    assert sum(figures(lesson.printed, "(?:a server|its kernels), MB: ")) >= learner_MB / 2
    figures(lesson.printed, "hub, proxy and culler, MB: ")


def test_the_hub_leaves_no_process(lesson):
    assert lesson.gone
    assert lesson.left == []


def test_settings_hold_no_secret_and_no_sign_in_for_tests():
    text = (HUB / "jupyterhub_config.py").read_text() + (HUB / "values.yaml").read_text()
    assert re.findall(r"(?i)secret\w*\s*[:=] *\S|password|dummy|api_token", text) == []


def test_learners_share_one_machine_behind_systemd_by_default(tmp_path):
    program = (
        "from traitlets.config import PyFileConfigLoader as Loader\n"
        f"c = Loader('jupyterhub_config.py', path={str(HUB)!r}).load_config()\n"
        "print(c.JupyterHub.spawner_class, c.JupyterHub.authenticator_class)\n"
        "print(c.Spawner.mem_limit, c.JupyterHub.active_server_limit, c.JupyterHub.bind_url)\n"
    )
    run = [sys.executable, "-c", program]
    said = subprocess.run(run, check=True, capture_output=True, text=True).stdout.split()
    assert said[:2] == ["systemdspawner.SystemdSpawner", "tmpauthenticator.TmpAuthenticator"]
    assert int(said[3]) * 230e6 < psutil.virtual_memory().total
    assert said[4].startswith("http://127.0.0.1:")
    values = yaml.safe_load((HUB / "values.yaml").read_text())
    assert values["singleuser"]["memory"]["limit"] == f"{int(said[2]) // 2**20}M"


def unknown(values, known, path=""):
    """Return what the chart does not know, and what is of another kind than it wants."""
    for name, value in values.items():
        here = f"{path}.{name}"
        if name not in known:
            yield here
        elif isinstance(known[name], dict):
            yield from unknown(value, known[name], here)
        elif not isinstance(value, CHART_KINDS[known[name]]):
            yield f"{here}: {value!r} is no {known[name]}"


def test_values_are_what_the_chart_knows():
    known = yaml.safe_load((ROOT / "tests" / "serving" / "chart_values.yaml").read_text())
    values = yaml.safe_load((HUB / "values.yaml").read_text())
    assert list(unknown(values, known)) == []
    assert list(unknown({"singleuser": {"memry": {}}}, known)) == [".singleuser.memry"]
    assert values["singleuser"]["storage"]["type"] == "none"
    assert values["singleuser"]["networkPolicy"]["enabled"]
    hub_config = values["hub"]["config"]
    assert hub_config["KubeSpawner"]["container_security_context"]["readOnlyRootFilesystem"]


def test_the_lock_pins_each_package_with_hashes_and_holds_what_the_package_needs():
    lock = (HUB / "requirements.lock").read_text()
    pinned = dict(re.findall(r"^([a-z0-9-]+)==([^ ]+) \\$", lock, re.MULTILINE))
    assert len(re.findall(r"^[a-z]", lock, re.MULTILINE)) == len(pinned)
    blocks = re.split(r"^(?=[a-z])", lock, flags=re.MULTILINE)
    assert all("--hash=sha256:" in block for block in blocks if re.match("[a-z]", block))
    project = (ROOT / "pyproject.toml").read_text().split("[project.optional-dependencies]")[0]
    wanted = re.findall(r'^  "([a-z]+>=[0-9.]+)",$', project, re.MULTILINE)
    assert len(wanted) >= 7
    for each in map(Requirement, wanted):
        assert Version(pinned[each.name]) in each.specifier


def test_the_container_is_pinned_runs_as_nobody_in_particular_and_needs_no_shell():
    text = (HUB / "Containerfile").read_text().replace("\\\n", "")
    steps = [line.split(maxsplit=1) for line in text.splitlines() if re.match("[A-Z]", line)]
    base = dict(argument.split("=", 1) for step, argument in steps if step == "ARG")["BASE"]
    assert re.fullmatch(r"docker\.io/library/python:3\.\d+\.\d+-slim-\w+", base)
    assert [argument for step, argument in steps if step == "USER"] == ["1000:1000"]
    assert any("--require-hashes" in argument for step, argument in steps if step == "RUN")
    last = dict(steps)
    assert last["CMD"].startswith("[")
    assert "CMD [" in last["HEALTHCHECK"]
    for step, argument in steps:
        if step == "COPY" and not argument.startswith("--from"):
            assert all((ROOT / source).exists() for source in argument.split()[:-1])
