"""Make the table of runs that questions read charts from.

    python tests/questions/store_question_runs.py [--to FILE] [--only RUN ...]

writes ``widgets/fizzplate/data/question_runs.csv``; ``test_stored_runs.py`` compares it with the engine.
"""

from __future__ import annotations

import argparse
import csv
from pathlib import Path

import fizzplate.data
from fizzplate.questions.makers.charts.stored_runs import FIGURES, RECIPES

HEAD = ("run", "quantity", "minutes", "value", "unit", "conditions", "status", "source", "caveat")


def lines(names):
    for name in names:
        recipe = RECIPES[name]
        for quantity, values in recipe.work_out().items():
            unit = quantity.rsplit(", ", 1)[1]
            for minutes, value in zip(recipe.minutes, values, strict=True):
                provenance = (
                    unit,
                    recipe.cell,
                    "computed",
                    "project",
                    "Of the model; not measured",
                )
                yield (name, quantity, minutes, f"{value:.{FIGURES}g}", *provenance)


def main():
    chosen = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    table = Path(fizzplate.data.__file__).with_name("question_runs.csv")
    chosen.add_argument("--to", type=Path, default=table, metavar="FILE")
    chosen.add_argument("--only", nargs="+", default=list(RECIPES), metavar="RUN", choices=RECIPES)
    question = chosen.parse_args()
    with question.to.open("w", newline="", encoding="utf-8") as table:
        writer = csv.writer(table, lineterminator="\n")
        writer.writerow(HEAD)
        writer.writerows(lines(question.only))
    print(question.to.name, "written:", ", ".join(question.only))


if __name__ == "__main__":
    main()
