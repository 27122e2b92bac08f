"""What holds for the whole nursery: its name and the address on its tags."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from labels.address import warnings
from labels.moved_address import consequences
from nursery.forms.house import HouseForm
from nursery.forms.refusals import taken
from nursery.models import House
from nursery.records import house as records
from nursery.views.guards import owners
from nursery.views.office.pages import filled, form_page

UNSET = (
    "No public address is set, so each tag carries the one in use when it was printed. Set a lasting one before you "
    "print the first tag."
)


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def house_settings(request: HttpRequest) -> HttpResponse:
    """The form; above it whatever is wrong with the address that tags carry now.

    Another address is kept only once the page has told what that means for the tags that are printed.
    """
    now = records.house()
    form = filled(request, HouseForm, name=now.name, public_address=now.public_address, shared_phones=now.shared_phones)
    if request.method == "POST" and form.is_valid():
        told = _consequences(now, form)
        if told:
            form.show_consequences()
            return _page(request, form, label="Change the address", cautions=told)
    if request.method == "POST" and (kept := taken(form, lambda: _keep(request, form))):
        messages.success(request, f"Kept: {kept.name}.")
        return redirect("house-settings")
    return _page(request, form, label="Keep this", cautions=address_warnings(now))


def _page(request: HttpRequest, form: HouseForm, *, label: str, cautions: list[str]) -> HttpResponse:
    return form_page(request, form, title="House", label=label, cancel_url=reverse("office"), cautions=cautions)


def _keep(request: HttpRequest, form: HouseForm) -> House:
    told = {name: value for name, value in form.cleaned_data.items() if name != "address_seen"}
    return records.house_changed(by=request.user, **told)


def _consequences(now: House, form: HouseForm) -> list[str]:
    """What has to be told of the new address and was not yet; nothing where it is the old one."""
    new, seen = form.cleaned_data["public_address"], form.cleaned_data["address_seen"]
    address = new.strip().rstrip("/")
    told = [] if new == seen or address == now.public_address else consequences(address)
    return [*told, *warnings(address)] if told and address else told


def address_warnings(house: House) -> list[str]:
    """What to know before the first tag is printed; nothing when the address is fit to last."""
    if not house.public_address:
        return [UNSET]
    return warnings(house.public_address)
