"""Which handler answers which address."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING, Any

from fizzplate.share.handlers.channels import Channels, Program
from fizzplate.share.handlers.closing import ClosingPage
from fizzplate.share.handlers.files import Extensions, FrontEnd, SiteFiles, TemplateFiles
from fizzplate.share.handlers.pages import ClassLink, Home, NotFound, Page
from fizzplate.share.handlers.steering import RoomAddresses, Steering, TeachersModule
from fizzplate.share.room import MODULES, RoomHost

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from fizzplate.share.network import Place

KERNEL = r"(?P<kernel_id>[\w-]{36})"


def routes(
    server: Any, pages: Mapping[str, Path], place: Place, first: str, site: Path | None = None
) -> list[Any]:
    """Return what Voila's application answers.

    Parameters
    ----------
    server
        Voila's application, with its settings made.
    pages
        Notebooks by the path under which each is shown.
    place
        Where it is served.
    first
        The page that the class's link leads to.
    site
        A folder that ``fizzplate site`` wrote, if one is to be offered.
    """
    common = {"voila_configuration": server.voila_configuration}
    shown = {**common, "template_paths": server.template_paths, "config": server.config}
    room = {"host": RoomHost(place)}
    return [
        (r"/", Home, common),
        *(
            (f"/{path}", Page, {**shown, "notebook_path": os.path.relpath(at, server.root_dir)})
            for path, at in pages.items()
        ),
        (r"/class-link", ClassLink, {**common, "place": place, "path": first}),
        (r"/room", RoomAddresses, room),
        (r"/room/steering", Steering, room),
        (rf"/room/({'|'.join(MODULES)})\.js", TeachersModule, room),
        (rf"/voila/api/shutdown/{KERNEL}", ClosingPage),
        (rf"/api/kernels/{KERNEL}", Program),
        (rf"/api/kernels/{KERNEL}/channels", Channels),
        (r"/voila/templates/(.*)", TemplateFiles),
        (r"/voila/static/(.*)", FrontEnd, {"paths": server.static_paths}),
        (r"/voila/labextensions/(.*)", Extensions, {"path": server.labextensions_path}),
        *([(r"/site/(.*)", SiteFiles, {"path": str(site)})] if site else []),
        (r"/.*", NotFound, common),
    ]
