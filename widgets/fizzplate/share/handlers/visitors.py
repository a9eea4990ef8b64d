"""Who may open a page: everyone at this computer; elsewhere, whoever has the class's link."""

from __future__ import annotations

import hmac
import uuid
from typing import Any

from jupyter_core.utils import ensure_async
from jupyter_server.auth.identity import PasswordIdentityProvider, User
from jupyter_server.base.call_context import CallContext
from tornado.web import HTTPError


class LinkHolders(PasswordIdentityProvider):
    """Let in whoever has the key of the class's link, and recognise them later by a cookie.

    The cookie holds a random name, is signed, and ends with the browser's session. Without a key,
    on this computer only, everyone is let in.
    """

    def get_token(self, handler: Any) -> str:
        """Return the key in a request's address."""
        return str(handler.get_argument("key", ""))

    async def get_user_token(self, handler: Any) -> Any:
        """Return the visitor whose request has the right key, compared in constant time."""
        if not self.token or not hmac.compare_digest(
            self.get_token(handler).encode(), str(self.token).encode()
        ):
            return None
        known = await ensure_async(self.get_user_cookie(handler))
        return known or self.generate_anonymous_user(handler)

    def set_login_cookie(self, handler: Any, user: User) -> None:
        """Give a visitor a name when a page is opened, never with another answer.

        A page whose server was started anew still asks for its old program, with a cookie that
        nobody knows any more. A name in such an answer could come after the one in the answer to its
        reload: the new page's program would then belong to somebody else.
        """
        if getattr(handler, "names_visitors", False):
            super().set_login_cookie(handler, user)

    def clear_login_cookie(self, handler: Any) -> None:
        """Take back a name that nobody knows any more, where a page is opened."""
        if getattr(handler, "names_visitors", False):
            super().clear_login_cookie(handler)

    def generate_anonymous_user(self, handler: Any) -> User:  # noqa: ARG002  # as it is called
        """Return a visitor of whom nothing is known but a random name."""
        return User(uuid.uuid4().hex)


def visitor() -> str:
    """Return the random name of the present request's visitor, or an empty one."""
    handler = CallContext.get(CallContext.JUPYTER_HANDLER)
    user = getattr(handler, "current_user", None)
    return str(getattr(user, "username", ""))


def require_owner(handler: Any, kernel_id: str) -> None:
    """Refuse a request unless the program belongs to the visitor who makes it.

    Raises
    ------
    HTTPError
        404 if it is another's, as if there were none.
    """
    name = str(getattr(handler.current_user, "username", ""))
    if not handler.kernel_manager.belongs_to(kernel_id, name):
        raise HTTPError(404)
