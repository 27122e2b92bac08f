"""Everything out again, table by table or as one archive; for owners."""

from django.http import FileResponse, Http404, HttpRequest, HttpResponse, StreamingHttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from nursery.site.export import archive
from nursery.site.export.sheet import Sheet, written
from nursery.views.guards import owners

GROUPS = (
    ("moving-in", "Tables to move in with", "As Moving in takes them: plants first, then the others."),
    ("things", "Every kind of thing", "With ids, numbers, names and all that is known now."),
    ("acts", "Every kind of act", "Whatever anybody did or saw, undone or not, with its day as it was told."),
    ("lists", "What these refer to", "By their ids."),
)


@owners
@require_safe
def export_page(request: HttpRequest) -> HttpResponse:
    sheets = archive.sheets()
    groups = [
        {"title": title, "words": words, "rows": [_row(one) for one in sheets if one.path.startswith(f"{folder}/")]}
        for folder, title, words in GROUPS
    ]
    description = next(one for one in sheets if one.path == archive.DESCRIPTION)
    shown = {"section": "office", "groups": groups, "description": _row(description)}
    return render(request, "office/export.html", shown)


@owners
@require_safe
def export_table(request: HttpRequest, name: str) -> HttpResponse:
    """One table."""
    sheet = archive.sheet_named(name)
    if sheet is None:
        raise Http404("There is no such table.")
    answer = StreamingHttpResponse(written(sheet), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{sheet.name}.csv"'
    return answer


@owners
@require_safe
def export_everything(request: HttpRequest) -> HttpResponse:
    """All tables in one zip."""
    name = f"tepal-{timezone.localdate().isoformat()}.zip"
    return FileResponse(archive.everything(), as_attachment=True, filename=name, content_type="application/zip")


def _row(sheet: Sheet) -> dict[str, str]:
    return {"url": reverse("export-table", args=[sheet.name]), "text": sheet.title, "sub": sheet.path}
