"""A closing page ends its own program, and no other."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlsplit

from jupyter_core.utils import ensure_async
from jupyter_server.base.handlers import JupyterHandler
from tornado.web import HTTPError

from fizzplate.share.handlers.refusal_handler import RefusalHandler
from fizzplate.share.handlers.visitors import require_owner


class ClosingPage(RefusalHandler, JupyterHandler):
    """Take the one request that a closing page can still make.

    A browser sends it without the token that guards other requests against being forged by
    another site. The check used instead is stricter: the request must say that it comes from
    this very server, which a browser lets no page choose, and the program must be the one that
    was started for this visitor.
    """

    def check_xsrf_cookie(self) -> None:
        """Check that this server's own page sent it, instead of checking the token."""
        origin = self.request.headers.get("Origin", "")
        # the scheme is not compared: a proxy may have taken the encryption off
        if urlsplit(origin).netloc != self.request.host:
            raise HTTPError(403, "not from a page of this server")
        if self.request.headers.get("Sec-Fetch-Site", "same-origin") != "same-origin":
            raise HTTPError(403, "not from a page of this server")

    async def post(self, kernel_id: str) -> None:
        """End the page's program."""
        kernels: Any = self.kernel_manager
        require_owner(self, kernel_id)
        await ensure_async(kernels.shutdown_kernel(kernel_id, now=True))
        self.set_status(204)
