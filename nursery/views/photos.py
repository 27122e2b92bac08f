"""The files of photos: to people who are signed in, and to nobody else."""

from pathlib import Path

from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import condition, require_safe

from nursery.models import Photo
from nursery.photo_files import full_path, small_ready
from nursery.views.guards import signed_in

KEEP = "private, max-age=604800"
"""For a week by the browser that asked, and by nothing in between: what stands under a name never changes."""
NOT_HERE = "The file of this photo is not in the data folder. Bring it back from a backup."


def _etag(request: HttpRequest, sha256: str) -> str:
    return f'"{sha256}"'


@signed_in
@require_safe
def photo(request: HttpRequest, sha256: str) -> HttpResponse:
    """A photo as large as it is kept."""
    _must_be_shown(sha256)
    return _file(request, sha256)


@signed_in
@require_safe
def photo_small(request: HttpRequest, sha256: str) -> HttpResponse:
    """A photo as it stands in stories."""
    _must_be_shown(sha256)
    return _small_file(request, sha256)


def _must_be_shown(sha256: str) -> None:
    """A photo is hidden once every act that told of it was undone."""
    if not Photo.objects.filter(sha256=sha256, act__voided_by__isnull=True).exists():
        raise Http404("There is no such photo.")


@condition(etag_func=_etag)
def _file(request: HttpRequest, sha256: str) -> HttpResponse:
    return _answer(full_path(sha256))


@condition(etag_func=_etag)
def _small_file(request: HttpRequest, sha256: str) -> HttpResponse:
    try:
        return _answer(small_ready(sha256))
    except FileNotFoundError as error:
        raise Http404(NOT_HERE) from error


def _answer(path: Path) -> HttpResponse:
    try:
        content = path.read_bytes()
    except FileNotFoundError as error:
        raise Http404(NOT_HERE) from error
    headers = {"Cache-Control": KEEP, "X-Content-Type-Options": "nosniff"}
    return HttpResponse(content, content_type="image/jpeg", headers=headers)
