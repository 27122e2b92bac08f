"""What Tepal is, and the licences of what it ships and stands on."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from nursery.views.guards import signed_in


@dataclass(frozen=True)
class Part:
    """Something of others that Tepal stands on; ``shipped`` when a copy lies in its own folder, with its licence."""

    name: str
    licence: str
    what_for: str
    shipped: str = ""


PARTS = (
    Part("Django", "BSD-3-Clause", "the pages and the database"),
    Part("htmx", "0BSD", "answers in place", "static/vendor/htmx"),
    Part(
        "DejaVu fonts", "Bitstream Vera and Arev, changes in the public domain", "the letters on labels", "labels/fonts"
    ),
    Part("ReportLab", "BSD-3-Clause", "drawing the labels"),
    Part("zxing-cpp", "Apache-2.0", "the codes on labels"),
    Part("Pillow", "MIT-CMU", "pictures"),
    Part("NumPy", "BSD-3-Clause", "reckoning"),
    Part("argon2-cffi", "MIT", "keeping passwords safe"),
    Part("django-axes", "MIT", "resting after wrong passwords"),
    Part("django-csp", "BSD-3-Clause", "what a page may load"),
    Part("django-htmx", "MIT", "answers in place"),
    Part("icalendar", "BSD-2-Clause", "the round in calendar programs"),
    Part("python-dateutil", "Apache-2.0 or BSD-3-Clause", "the days of routines"),
    Part("dj-database-url", "BSD-3-Clause", "settings"),
    Part("psycopg", "LGPL-3.0", "PostgreSQL, where it is used"),
    Part("waitress", "ZPL-2.1", "serving"),
    Part("WhiteNoise", "MIT", "serving styles and pictures"),
)


@signed_in
@require_safe
def about(request: HttpRequest) -> HttpResponse:
    return render(request, "office/about.html", {"section": "office", "parts": PARTS})
