"""The round for calendar programs: its secret addresses, and what stands behind them."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_variables
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from breeding.forms.calendars import AddressForm, EndForm, addresses_of
from breeding.models import CalendarAddress
from breeding.records import calendars as records
from breeding.rounds.ahead import coming
from breeding.rounds.calendar_file import calendar_file
from nursery.forms.refusals import taken
from nursery.models import Person
from nursery.records.house import house
from nursery.views.guards import signed_in

DAYS = 42
"""Six weeks: a month's page shows so many, and beyond them predictions say little."""


@signed_in
@never_cache
@sensitive_variables("secret", "made")
@require_http_methods(["GET", "HEAD", "POST"])
def calendars(request: HttpRequest) -> HttpResponse:
    """The addresses there are; a POST makes one and shows it once."""
    form = AddressForm(request.POST or None)
    url = ""
    if request.method == "POST":
        made = taken(form, lambda: records.address_made(by=request.user, **form.cleaned_data))
        if made is not None:
            url, form = _base(request) + reverse("calendar-file", args=[made[1]]), AddressForm()
    shown = {
        "section": "office",
        "form": form,
        "new_url": url,
        "plain": url.startswith("http://"),
        "days": DAYS,
        "addresses": [_row(one, request.user) for one in addresses_of(request.user)],
    }
    return render(request, "office/calendars.html", shown, status=422 if form.errors else 200)


@signed_in
@require_POST
def calendar_end(request: HttpRequest) -> HttpResponse:
    """End an address; one that is ended already stays so."""
    form = EndForm(request.POST, person=request.user)
    if form.is_valid():
        address = form.cleaned_data["address"]
        records.address_ended(by=request.user, address=address)
        messages.success(request, f"The address for “{address}” is ended. A calendar that reads it finds nothing.")
    else:
        messages.warning(request, "This address is ended already.")
    return redirect("calendars")


@require_safe
@never_cache
def calendar_file_page(request: HttpRequest, secret: str) -> HttpResponse:
    """What is due, for whoever knows the address: calendar programs cannot sign in."""
    if records.reader(secret) is None:
        raise Http404("There is no such calendar.")
    nursery, now = house(), timezone.now()
    written = calendar_file(
        coming(timezone.localdate(), days=DAYS),
        house=nursery.name,
        key=nursery.epoch.hex,
        now=now,
        round_url=f"{_base(request)}/",
    )
    return HttpResponse(written, content_type="text/calendar; charset=utf-8")


def _base(request: HttpRequest) -> str:
    """The public address, which outlives the one in use; without it, the latter."""
    return house().public_address.rstrip("/") or request.build_absolute_uri("/").rstrip("/")


def _row(address: CalendarAddress, reader: Person) -> dict[str, object]:
    whose = "" if address.person_id == reader.pk else address.person.name
    since = timezone.localtime(address.made_at).strftime("%-d %b %Y")
    return {"pk": address.pk, "words": address.words, "whose": whose, "since": since}
