"""Compile the page's templates once, not at every request."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pathlib import Path


def compile_once(folder: Path) -> None:
    """Have Voila keep its compiled templates in a folder.

    Voila makes an environment for each page that it serves, and compiling some twenty templates again
    is most of what a page costs the server.
    """
    from jinja2 import FileSystemBytecodeCache
    from voila.exporter import VoilaExporter

    class Exporter(VoilaExporter):  # type: ignore[misc]  # Voila ships no types
        """Voila's exporter with compiled templates that outlive it."""

        def _create_environment(self) -> Any:
            environment = super()._create_environment()
            environment.bytecode_cache = FileSystemBytecodeCache(str(folder))
            return environment

    import voila.notebook_renderer

    voila.notebook_renderer.VoilaExporter = Exporter
