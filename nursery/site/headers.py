"""Headers that every answer carries: what a page may load, and what it may ask of the phone."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

SELF, NONE = "'self'", "'none'"

# Everything comes from this server, and nothing stands inline. One dict, so that Django's own policy middleware,
# which 6.x brings, can be fed with it as well.
CONTENT_POLICY: dict[str, list[str]] = {
    "default-src": [SELF],
    "object-src": [NONE],
    "base-uri": [NONE],
    "form-action": [SELF],
    "frame-ancestors": [NONE],
}

PERMISSIONS_POLICY = ", ".join(
    f"{feature}=()" for feature in ("camera", "geolocation", "microphone", "payment", "usb", "browsing-topics")
)

Answer = Callable[[HttpRequest], HttpResponse]


def permissions_policy(get_response: Answer) -> Answer:
    """Middleware: Tepal's pages need no camera, place or microphone, so nothing that slips in gets them either.

    A form that asks for a photo opens the phone's own camera, whose picture the person then sends: that is no page
    looking through the lens, and needs no permission.
    """

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        response.headers.setdefault("Permissions-Policy", PERMISSIONS_POLICY)
        return response

    return answer
