"""fp.show puts the bench below a notebook's cell; whoever only calculates loads no widgets."""

import subprocess
import sys

import pytest

import fizzplate as fp
from fizzplate.views.bench import NotebookBench
from fizzplate.words import InputError

PLAIN = """
import sys
import fizzplate as fp
views = {"ipywidgets", "anywidget", "matplotlib", "IPython", "fizzplate.views"}
assert not views & set(sys.modules), views & set(sys.modules)
fp.show(fp.Cell("CuSO4"))
"""


@pytest.fixture(scope="module")
def run():
    return fp.Cell("CuSO4").run(minutes=2, samples=5)


@pytest.fixture(scope="module")
def shown(run):
    return NotebookBench(run)


def test_plain_python_loads_no_widgets_and_is_told_where_a_run_can_be_shown():
    ended = subprocess.run(
        [sys.executable, "-c", PLAIN], capture_output=True, text=True, check=False
    )
    assert ended.returncode == 1
    last = ended.stderr.strip().splitlines()[-1]
    assert last.startswith("RuntimeError: fp.show draws in a notebook")
    assert "run.to_csv" in last


def test_a_run_plays_and_says_in_words_what_it_shows(shown):
    assert shown.bench.lesson["on"]
    assert not shown.bench.lesson["asking"]
    assert len(shown.bench.charts) > 2
    bundle = shown._repr_mimebundle_()
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert bundle["text/plain"].startswith("Drawing of the cell: copper(II) sulfate")
    assert bundle["text/plain"].endswith("bubbles of oxygen form.")


def test_a_cell_rests(run):
    at_rest = NotebookBench(run.cell)
    assert not at_rest.bench.lesson["on"]
    assert "The switch is open" in at_rest.words


def test_what_is_neither_is_refused():
    with pytest.raises(InputError, match=r"shown: 'CuSO4' cannot be used. Use a run, such as"):
        NotebookBench("CuSO4")


def test_show_displays_it_in_a_notebook_and_the_page_remembers_each_apart(run, shown, monkeypatch):
    displayed = []
    monkeypatch.setattr("IPython.get_ipython", lambda: "a notebook's")
    monkeypatch.setattr("IPython.display.display", displayed.append)
    fp.show(run)
    assert [type(each) for each in displayed] == [NotebookBench]
    assert displayed[0].bench.lesson["key"] != shown.bench.lesson["key"]
