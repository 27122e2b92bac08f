"""A phone as the server sees it: signs in, posts, keeps nothing but what was acknowledged."""

import http.cookiejar
import urllib.error
import urllib.parse
import urllib.request
from typing import Any

NOT_REACHED = (OSError, EOFError)
"""What a post ends in when the server dies under it: refused, reset, or cut off in the middle of the answer."""


class _NoRedirect(urllib.request.HTTPRedirectHandler):
    def redirect_request(self, *_: Any) -> None:
        return None


class Phone:
    """One browser on a server at ``address``, which ends in a slash."""

    def __init__(self, address: str):
        self.address = address
        self.cookies = http.cookiejar.CookieJar()
        self.opener = urllib.request.build_opener(_NoRedirect, urllib.request.HTTPCookieProcessor(self.cookies))

    def sign_in(self, name: str, password: str) -> None:
        self._open("sign-in/")
        answer = self.post("sign-in/", name=name, password=password, way="password")
        assert answer == (302, "/"), answer

    def post(self, path: str, **values: str) -> tuple[int, str]:
        """Status, and where the answer sends the phone."""
        return self._open(path, values | {"csrfmiddlewaretoken": self._token()})

    def acknowledged(self, path: str, **values: str) -> bool:
        """Whether the server took a record: it sends the phone on, and not to the sign-in page."""
        try:
            status, target = self.post(path, **values)
        except NOT_REACHED:
            return False
        assert status == 302 and not target.startswith("/sign-in"), (status, target)
        return True

    def _open(self, path: str, values: dict[str, str] | None = None) -> tuple[int, str]:
        data = urllib.parse.urlencode(values).encode() if values else None
        try:
            with self.opener.open(self.address + path, data, timeout=60) as answer:
                return answer.status, ""
        except urllib.error.HTTPError as error:
            with error:
                return error.code, error.headers.get("Location", "")

    def _token(self) -> str:
        return next(cookie.value for cookie in self.cookies if "csrf" in cookie.name)
