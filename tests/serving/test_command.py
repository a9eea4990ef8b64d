"""The command serves one page, to this machine only, shows no source, and leaves nothing behind."""

from __future__ import annotations

import http.client
import re
import signal
import socket
import subprocess
import sys
import urllib.error
from html import unescape
from importlib.metadata import version
from pathlib import Path
from types import SimpleNamespace
from urllib.parse import urlsplit

import nbformat
import psutil
import pytest
from tests.serving.conftest import WIDGET, printed

from fizzplate.share.command import PAGES, main, port_number
from fizzplate.share.forking import can_fork
from fizzplate.views.web.theme import tokens

COMMAND = Path(sys.executable).with_name("fizzplate")
NOBODY = "00000000-0000-0000-0000-000000000000"
ADDRESS = r"(http://127\.0\.0\.1:(\d+)/)measure\n"
ERROR_SENTENCE = "There was an error when executing cell"


@pytest.fixture(scope="module")
def served(started, read_page, tmp_path_factory):
    """Start the command once, on a machine with a screen and with a Python kernel that cannot start.

    Gives the address as it was printed, the page's headers and text, and the process and its folder.
    """
    folder = tmp_path_factory.mktemp("served")
    elsewhere = folder / "kernels" / "python3"
    elsewhere.mkdir(parents=True)
    (elsewhere / "kernel.json").write_text(
        '{"argv": ["/nowhere/python"], "display_name": "Python 3", "language": "python"}'
    )
    for name in ("home", "temporary"):
        (folder / name).mkdir()
    environment = {
        "HOME": str(folder / "home"),
        "TMPDIR": str(folder / "temporary"),
        "JUPYTER_PATH": str(folder),
        "PYTHONPROFILEIMPORTTIME": "1",
        **browser(folder, ":0"),
    }
    command = [COMMAND, "--port", "0", "--page", "measure"]
    with (
        (folder / "imports").open("w") as imports,
        started(*command, stderr=imports, **environment) as process,
    ):
        line = process.stdout.readline()
        yield line, *read_page(line.strip()), SimpleNamespace(process=process, folder=folder)


def browser(folder, display):
    """Return what makes a script in a folder the browser, which notes the address that it is given."""
    script = folder / "browser"
    script.write_text(f'#!/bin/sh\necho "$1" >"{folder / "opened"}"\n')
    script.chmod(0o755)
    return {"BROWSER": str(script), "DISPLAY": display, "WAYLAND_DISPLAY": ""}


def test_help_is_in_plain_words():
    said = subprocess.run([COMMAND, "--help"], capture_output=True, text=True, check=True).stdout
    assert "Ctrl-C" in said
    assert "--no-browser" in said


def test_version(capsys):
    with pytest.raises(SystemExit):
        main(["--version"])
    assert capsys.readouterr().out == f"fizzplate {version('fizzplate')}\n"


@pytest.mark.parametrize("port", ["-1", "65536", "eighty", "80.5", ""])
def test_a_port_that_is_none_is_refused_in_words(port, capsys):
    with pytest.raises(SystemExit):
        main([f"--port={port}"])
    refusal = capsys.readouterr().err
    assert f"--port: {port!r} cannot be used" in refusal
    assert "from 0 to 65535" in refusal


def test_the_ends_of_the_range_of_ports_are_taken():
    assert (port_number("0"), port_number("65535")) == (0, 65535)


def test_a_taken_port_is_refused_in_words(capsys):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        assert main(["--no-browser", "--port", str(port)]) == 1
    refusal = capsys.readouterr().err
    assert f"port {port} of 127.0.0.1 cannot be used" in refusal
    assert "Use another --port" in refusal


def test_an_address_of_another_computer_is_refused_in_words(capsys):
    assert main(["--no-browser", "--host", "192.0.2.1"]) == 1
    assert "Use another --host" in capsys.readouterr().err


def test_the_address_stands_on_a_line_of_its_own_and_is_loopback(served):
    assert re.fullmatch(ADDRESS, served[0])


def test_no_other_address_of_the_machine_is_listened_on(served):
    port = int(re.fullmatch(ADDRESS, served[0])[2])
    with pytest.raises(OSError):  # noqa: PT011  # refused here, unreachable on other systems
        socket.create_connection(("127.0.0.2", port), timeout=5)


def test_another_site_cannot_reach_it_under_a_name_of_its_own(served):
    connection = http.client.HTTPConnection(urlsplit(served[0].strip()).netloc, timeout=60)
    connection.request("GET", "/", headers={"Host": "elsewhere.example"})
    assert connection.getresponse().status == 403
    connection.close()


@pytest.mark.parametrize("path", ["api/kernels/{}", "api/kernels/{}/channels", "favicon.ico", ""])
def test_only_a_page_gives_a_visitor_another_name(served, path):
    """A lost page asks for its old program while it reloads, with the cookie of a server that has gone."""
    address = urlsplit(served[0].strip())
    old = f"username-127-0-0-1-{address.port}=2|1:0|10:1|4:name|4:eyJ9|{'0' * 64}"
    connection = http.client.HTTPConnection(address.netloc, timeout=60)
    connection.request("GET", f"/{path.format(NOBODY)}", headers={"Cookie": old})
    answer = connection.getresponse()
    named = "username" in (answer.getheader("Set-Cookie") or "")
    assert (answer.status, named) == ((404, False) if path else (200, True))
    connection.close()


def test_the_page_shows_its_widget_and_no_error_and_no_source(served):
    text = served[2]
    assert WIDGET in text
    assert ERROR_SENTENCE not in text
    assert "Traceback" not in text
    assert "import fizzplate" not in text
    assert "from fizzplate" not in text


@pytest.mark.parametrize("name", PAGES)
def test_what_a_notebook_prints_stays_in_the_notebook(served, read_page, name):
    link = "prepare?cells=NaCl" if name == "prepare" else name  # one sheet is as good as four
    text = unescape(read_page(served[0].strip().replace("measure", link))[1])
    assert WIDGET in text
    assert [line for line in printed(name) if line in text] == []


def test_the_page_is_ours_and_names_no_other_host(served):
    text = served[2]
    assert "Filling the beaker" in text
    assert '<html lang="en">' in text
    assert "<main " in text
    assert '<meta http-equiv="Content-Security-Policy"' in text
    hosts = set(re.findall(r"(?:https?:)?//([\w-]+(?:\.[\w-]+)+)", text))
    assert hosts <= {"www.w3.org"}  # the name of a namespace, never asked for


def test_no_site_is_offered_without_one(served, read_page):
    assert "/site/" not in served[2]
    with pytest.raises(urllib.error.HTTPError, match="404"):
        read_page(served[0].strip().replace("measure", "site/"))


def test_the_loading_page_has_the_ground_and_ink_of_the_theme(served):
    for room in (tokens().light, tokens().dark):
        assert f"--fp-paper: {room['paper']}; --fp-ink: {room['ink']};" in served[2]


def test_security_headers_are_set(served):
    assert served[1]["X-Content-Type-Options"] == "nosniff"
    assert "frame-ancestors" in served[1]["Content-Security-Policy"]


@pytest.mark.parametrize(
    "path",
    [
        "voila/render/demonstrate.ipynb",
        "from_python/",
        "voila/render/from_python.ipynb",
        "demonstrate/",
        "demonstrate/../measure",
        "..%2f..%2fetc%2fpasswd",
        "voila/templates/fizzplate/static/..%2f..%2f..%2f..%2f..%2f..%2fetc%2fpasswd",
        "voila/templates/fizzplate/index.html.j2",
        "voila/templates/fizzplate",
        "voila/labextensions/..%2f..%2f..%2f..%2f..%2fetc%2fpasswd",
        "voila/static/..%2f..%2f..%2f..%2fetc%2fpasswd",
        "login",
        "voila/tree",
        "voila/api/contents",
        "voila/files/demonstrate.ipynb",
        "api/contents",
        "api/kernels",
        "api/terminals",
        "demonstrate.ipynb",
    ],
)
def test_nothing_else_is_served(served, read_page, path):
    with pytest.raises(urllib.error.HTTPError) as refused:
        read_page(re.fullmatch(ADDRESS, served[0])[1] + path)
    assert refused.value.code in {403, 404}


def test_a_failing_page_shows_no_traceback_and_runs_no_cell_of_the_notebook_alone(
    tmp_path, started, read_page
):
    book = nbformat.v4.new_notebook()
    new_cell = nbformat.v4.new_code_cell
    only_there = f"open({str(tmp_path / 'was_run')!r}, 'w').close()"
    book.cells = [
        new_cell(only_there, metadata={"tags": ["notebook-only"]}),
        new_cell("secret_of_the_house = 7\nraise ValueError('inside')"),
    ]
    nbformat.write(book, tmp_path / "failing.ipynb")
    program = (
        "import sys; from pathlib import Path; from fizzplate.share.network import *;"
        "from fizzplate.share.server import serve; place = Place(LOOPBACK, free_port(0));"
        "serve({'failing': Path(sys.argv[1])}, place, max_kernels=2,"
        " on_listening=lambda: print(place.address('failing'), flush=True))"
    )
    command = [sys.executable, "-c", program, str(tmp_path / "failing.ipynb")]
    with started(*command) as process:
        text = read_page(process.stdout.readline().strip())[1]
    assert ERROR_SENTENCE in text
    assert "secret_of_the_house" not in text
    assert "ValueError" not in text
    assert not (tmp_path / "was_run").exists()


def test_the_notebook_runs_on_the_interpreter_of_the_command(served):
    assert (served[3].folder / "kernels" / "python3" / "kernel.json").is_file()
    assert WIDGET in served[2]


def test_where_kernels_can_be_forked_pages_run_on_forked_ones(served):
    names = [
        child.name() for child in psutil.Process(served[3].process.pid).children(recursive=True)
    ]
    assert any(name.startswith("kernel-") for name in names) == can_fork()


def test_the_browser_opens_where_there_is_a_screen(served):
    assert (served[3].folder / "opened").read_text() == served[0]


def test_what_takes_long_and_no_page_needs_is_not_loaded(served):
    lines = (served[3].folder / "imports").read_text().splitlines()
    loaded = {line.rpartition("|")[2].strip() for line in lines}
    assert {"jsonschema", "voila.app"} <= loaded
    assert {"rfc3987_syntax.syntax_helpers", "debugpy"} & loaded == set()


def test_stopping_before_the_page_is_up_leaves_nothing(tmp_path, started):
    with started(TMPDIR=str(tmp_path)) as process:
        while not any(tmp_path.glob("fizzplate-*")) and process.poll() is None:
            pass
        process.send_signal(signal.SIGHUP)  # a terminal that closes
        assert process.wait(timeout=30) == 0
    assert list(tmp_path.iterdir()) == []


def test_ctrl_c_leaves_no_process_and_no_file(tmp_path, started, read_page):
    for name in ("home", "temporary"):
        (tmp_path / name).mkdir()
    places = {"HOME": str(tmp_path / "home"), "TMPDIR": str(tmp_path / "temporary")}
    command = [COMMAND, "--port", "0", "--page", "measure"]
    with started(*command, **places, **browser(tmp_path, "")) as process:
        read_page(process.stdout.readline().strip())  # answered only after a browser was opened
        nothing_is_left_after(signal.SIGINT, process, tmp_path)
    has_screen = sys.platform != "linux"  # elsewhere there is one whatever the variables say
    assert (tmp_path / "opened").is_file() == has_screen


def test_a_polite_request_to_end_leaves_no_process_and_no_file(served):
    """It ends the server that the tests above share, so it stands last."""
    nothing_is_left_after(signal.SIGTERM, served[3].process, served[3].folder)


def nothing_is_left_after(stop, process, folder):
    """Stop a server; see that its kernels have gone, and its files in home and temporary folder."""
    kernels = psutil.Process(process.pid).children(recursive=True)
    assert kernels
    assert any((folder / "temporary").iterdir())
    process.send_signal(stop)
    process.send_signal(stop)  # by someone impatient
    assert process.wait(timeout=30) == 0
    assert psutil.wait_procs(kernels, timeout=10)[1] == []
    assert list((folder / "temporary").iterdir()) == []
    left = [path for path in (folder / "home").rglob("*") if path.is_file()]
    assert [path for path in left if "matplotlib" not in path.parts] == []  # its list of fonts


def test_a_site_is_served_and_offered_where_the_line_is_slow(started, read_page, tmp_path):
    home = "<title>Fizz &amp; Plate</title><script>const worker = 'service-worker.js'</script>"
    (tmp_path / "index.html").write_text(home)
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "page.html").write_text("below")
    with started(COMMAND, "--port", "0", "--page", "measure", "--site", tmp_path) as process:
        address = process.stdout.readline().strip()
        text = read_page(address)[1]
        site = address.removesuffix("measure") + "site/"
        found = [read_page(site + name)[1] for name in ("", "sub/page.html")]
        with pytest.raises(urllib.error.HTTPError, match="404"):
            read_page(f"{site}../conftest.py")
    assert '<a href="/site/">Open the light version</a>' in text
    assert found == [home, "below"]


@pytest.mark.parametrize("others", [None, "<title>Our school</title>"])
def test_a_folder_without_a_site_is_refused_by_name(capsys, tmp_path, others):
    """Above all one with other pages: all that it holds would be served."""
    if others:
        (tmp_path / "index.html").write_text(others)
    with pytest.raises(SystemExit):
        main(["--site", str(tmp_path)])
    assert f"'{tmp_path}' holds no site. Write one first: fizzplate site" in capsys.readouterr().err
