"""Blank tags: numbers printed beforehand, put on a thing when it is found."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from labels import contents
from labels.contents import BLANK
from labels.forms import BlankForm
from labels.views.addresses import cautions
from nursery.forms.refusals import taken
from nursery.records.numbers import blank_tags_make
from nursery.views.guards import may_record


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def blank(request: HttpRequest) -> HttpResponse:
    """Ask how many; make as many as are missing. So a form that comes twice makes no more than it says."""
    form = BlankForm(request.POST or None)
    if request.method == "POST" and taken(form, lambda: _make(form.cleaned_data["count"])) is not None:
        return redirect(f"{reverse('labels:waiting')}?show={BLANK}")
    context = {
        "section": "labels",
        "title": "Blank tags",
        "form": form,
        "label": "Make them",
        "cautions": cautions(request),
        "cancel_url": reverse("labels:waiting"),
        "lead": _lead(contents.blanks_waiting()),
    }
    return render(request, "things/act.html", context, status=422 if form.errors else 200)


def _make(count: int) -> int:
    missing = max(0, count - contents.blanks_waiting())
    return len(blank_tags_make(count=missing)) if missing else 0


def _lead(waiting: int) -> str:
    words = "Take them along: scan one, or type its number, and say what it hangs on."
    if not waiting:
        return words
    return f"{words} {waiting} blank {'tag is' if waiting == 1 else 'tags are'} made and not printed yet; they count."
