"""One's own password: for everybody who signed in, be it by a code."""

from django.contrib import auth, messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from nursery import sessions
from nursery.forms.people import OwnPasswordForm
from nursery.forms.refusals import taken
from nursery.records import people as records
from nursery.views.guards import signed_in
from nursery.views.office.pages import form_page

LEAD = "You are signed out on your other devices, and stay signed in here."


@signed_in
@sensitive_post_parameters("password_now", "password")
@require_http_methods(["GET", "HEAD", "POST"])
def mine(request: HttpRequest) -> HttpResponse:
    form = OwnPasswordForm(request.POST or None, has_one=request.user.has_usable_password())
    if request.method == "POST" and form.is_valid() and not _knows_it(request, form):
        form.add_error("password_now", "This is not your password. Type it once more, or ask an owner for a new one.")
    if request.method == "POST":
        person = taken(form, lambda: records.own_password_set(by=request.user, password=form.cleaned_data["password"]))
        if person is not None:
            sessions.stay_here(request, person)
            messages.success(request, "From now on you sign in with the new password.")
            return redirect("more")
    return form_page(request, form, title="Your password", label="Set it", cancel_url=reverse("more"), lead=LEAD)


def _knows_it(request: HttpRequest, form: OwnPasswordForm) -> bool:
    """Tried as at the sign-in page, so that guesses on a phone that was left lying are throttled like those there."""
    if not form.has_one:
        return True
    return (
        auth.authenticate(request, name=request.user.name, password=form.cleaned_data["password_now"]) == request.user
    )
