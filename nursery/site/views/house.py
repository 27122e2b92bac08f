"""What holds for the whole nursery: its name and the address on its tags."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from labels.address import warnings
from nursery.forms.house import HouseForm
from nursery.forms.refusals import taken
from nursery.models import House
from nursery.records import house as records
from nursery.views.guards import owners
from nursery.views.office.pages import filled, form_page


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def house_settings(request: HttpRequest) -> HttpResponse:
    """The form; above it whatever is wrong with the address that tags carry now."""
    now = records.house()
    form = filled(request, HouseForm, name=now.name, public_address=now.public_address, shared_phones=now.shared_phones)
    if request.method == "POST":
        changed = taken(form, lambda: records.house_changed(by=request.user, **form.cleaned_data))
        if changed is not None:
            messages.success(request, f"Kept: {changed.name}.")
            return redirect("house-settings")
    return form_page(
        request,
        form,
        title="House",
        label="Keep this",
        cancel_url=reverse("office"),
        cautions=address_warnings(now),
    )


def address_warnings(house: House) -> list[str]:
    """What to know before the first tag is printed; nothing when the address is fit to last."""
    if not house.public_address:
        return ["No public address is set, so tags carry their digits only. Set one before you print the first tag."]
    return warnings(house.public_address)
