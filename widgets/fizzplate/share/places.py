"""Where the notebooks and the page template are, installed or in a checkout."""

from __future__ import annotations

from pathlib import Path

_HERE = Path(__file__).parent


def template_folder() -> Path:
    """Return the folder that Jupyter's search path needs in order to find the page template."""
    return _HERE / "jupyter"


def notebook(name: str) -> Path:
    """Return the notebook of a page.

    The wheel has the notebooks in this module's folder; a checkout has them at its top.

    Raises
    ------
    FileNotFoundError
        If neither has it.
    """
    for folder in (_HERE / "notebooks", _HERE.parents[2] / "notebooks"):
        if (found := folder / f"{name}.ipynb").is_file():
            return found
    raise FileNotFoundError(f"the notebook {name!r} is not part of this installation")
