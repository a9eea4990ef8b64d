"""On a phone the cell stays in sight, and one part of Explore at a time is shown below it."""

from __future__ import annotations

import traitlets

from fizzplate.views.web import Widget

#: the parts, by the names that the stylesheet knows, with what their buttons say
PARTS = {
    "observe": "Observe",
    "charts": "Charts",
    "investigate": "Investigate",
    "vary": "Vary",
    "equations": "Equations",
}


class PhoneParts(Widget):
    """Buttons that choose which part of the page is shown on a phone; elsewhere all are."""

    module = "inquiry/phone_parts.js"
    render = "renderPhoneParts"

    parts: traitlets.Dict[str, str] = traitlets.Dict(help="Names and labels.").tag(sync=True)

    def __init__(self) -> None:
        super().__init__(parts=dict(PARTS))
