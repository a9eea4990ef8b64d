"""Results to take away: figures as CSV, charts as pictures, the page as a printed report."""

from __future__ import annotations

import traitlets

from fizzplate.views.web import Widget


class ResultsExport(Widget):
    """Buttons that save what the page shows."""

    module = "controls/results_export/results_export.js"
    render = "renderResultsExport"

    csv = traitlets.Unicode(help="The results as CSV.").tag(sync=True)

    def offer(self, csv: str) -> None:
        """Offer these results for saving."""
        self.csv = csv
