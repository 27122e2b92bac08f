"""How long each step is expected to take: for everybody to read, with its source; for owners to change."""

from dataclasses import asdict

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from breeding.forms.expectations import ACCEPTED, OWN_LOG, STRENGTH_WORDS, Accepted, NewTimingForm, RiskForm, TimingForm
from breeding.learning.gather import STEPS
from breeding.models import Expectation
from breeding.records import expectations as records
from breeding.rounds.expected import FACTS, Expectations, Expected, expected_of
from breeding.rounds.preview import effect_of
from breeding.rounds.stored import settings
from breeding.science.shipped import SHIPPED, shipped
from breeding.science.timings import Timing
from breeding.words.effects import effect_words
from breeding.words.risk import risk_words
from nursery.forms.refusals import taken
from nursery.views.guards import owners, posted, signed_in
from nursery.views.office.pages import cell, filled, form_page

COLUMNS = (
    {"label": "Step"},
    {"label": "Window, days"},
    {"label": "Middle, days"},
    {"label": "Learned here, days"},
    {"label": "Grace, days"},
    {"label": "Risk"},
    {"label": "Longest gap, days"},
    {"label": "Source"},
)
LEAD = (
    "How long each step takes: a window for four in five, with where it comes from, and what your own records say by "
    "now. None of it is a law. Open a step to see whose days differ, and how well it was predicted."
)


@signed_in
@require_safe
def timings(request: HttpRequest) -> HttpResponse:
    rows = _in_order()
    return _timings_page(request, RiskForm(initial=accepted_now(rows)), rows)


@owners
@posted(form_on="timings")
def risks(request: HttpRequest) -> HttpResponse:
    """Set the accepted risks, each in every timing of its steps."""
    rows = _in_order()
    form = RiskForm(request.POST, initial=accepted_now(rows))
    if taken(form, lambda: _accept(request, form)) is None:
        return _timings_page(request, form, rows)
    messages.success(request, "Kept. The round looks as often as that needs.")
    return redirect("timings")


def _accept(request: HttpRequest, form: RiskForm) -> bool:
    with transaction.atomic():
        for one, risk in form.told():
            records.risk_accepted(by=request.user, steps=one.steps, risk=risk)
    return True


def accepted_now(rows: list[Expectation]) -> dict[str, float]:
    """By its code, the risk that holds for all taxa."""
    now = {row.step: row.risk for row in rows if row.taxon is None}
    return {one.code: now[one.steps[0]] for one in ACCEPTED if one.steps[0] in now}


def _timings_page(request: HttpRequest, form: RiskForm, rows: list[Expectation]) -> HttpResponse:
    known = settings()[0]
    add = {"url": reverse("timing-new"), "label": "Add one for a taxon"}
    shown = {
        "section": "office",
        "title": "Timings",
        "lead": LEAD,
        "add": add if request.user.is_owner else None,
        "columns": COLUMNS,
        "rows": [_row(row, known) for row in rows],
        "risk_form": form,
        "risks": [_risk_words(one, form.initial) for one in ACCEPTED if one.code in form.initial],
    }
    return render(request, "office/timings.html", shown, status=422 if form.errors else 200)


def _risk_words(one: Accepted, now: dict[str, float]) -> str:
    return f"{one.words}: {risk_words(now[one.code], one.thing)}."


def _in_order() -> list[Expectation]:
    """By step as the season runs, the common timing before those of single taxa."""
    turns = {row.step: turn for turn, row in enumerate(SHIPPED)}
    rows = Expectation.objects.select_related("taxon")
    return sorted(rows, key=lambda row: (turns.get(row.step, len(turns)), str(row.taxon or "")))


def _row(row: Expectation, known: Expectations) -> dict[str, object]:
    step, window, middle, learned, grace, risk, gap, source = COLUMNS
    cells = [
        cell(step, shipped(row.step).words, sub=str(row.taxon) if row.taxon else "all taxa"),
        cell(window, f"{row.low} to {row.high}"),
        cell(middle, middle_of(row)),
        _learned_cell(learned, row, known.of(row.step, row.taxon_id)),
        _grace_cell(grace, row, known.of(row.step, row.taxon_id)),
        cell(risk, risk_words(row.risk)),
        cell(gap, row.longest_gap),
        cell(source, row.source, sub=STRENGTH_WORDS.get(row.strength, row.strength)),
    ]
    return {"url": reverse("timing-step", args=[row.step]), "cells": cells}


def _learned_cell(column: dict[str, str], row: Expectation, expected: Expected) -> dict[str, object]:
    if expected.law is None:
        stands = row.as_it_stands or row.step not in STEPS
        return cell(column, "used as it stands" if stands else "nothing yet")
    return cell(column, f"{expected.low} to {expected.high}", sub=f"middle {expected.middle}, {expected.learned_from}")


def _grace_cell(column: dict[str, str], row: Expectation, expected: Expected) -> dict[str, object]:
    bare = f"{expected.grace(bagged=False)} bare, {expected.grace_said(bagged=False)}" if expected.finds else ""
    return cell(column, grace_words(row), sub=bare)


def middle_of(row: Expectation) -> int:
    """The median in whole days; half of all steps take no longer."""
    return round(Timing(row.low, row.high).median)


def grace_words(row: Expectation) -> str:
    bagged = f", {row.grace_bagged} in a bag" if row.grace_bagged != row.grace_plain else ""
    return f"{row.grace_plain}{bagged}"


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def timing_new(request: HttpRequest) -> HttpResponse:
    form = filled(request, NewTimingForm, strength=OWN_LOG, risk=0.01)
    if request.method == "POST":
        added = taken(form, lambda: _add(request, form))
        if added is not None:
            messages.success(request, f"Added for {added.taxon}: {shipped(added.step).words}.")
            return redirect("timings")
    return form_page(request, form, title="A timing for one taxon", label="Add it", cancel_url=reverse("timings"))


def _add(request: HttpRequest, form: NewTimingForm) -> Expectation:
    told = form.cleaned_data
    return records.expectation_added(by=request.user, step=told["step"], taxon=told["taxon"], facts=form.facts())


@owners
@require_http_methods(["GET", "HEAD", "POST"])
def timing(request: HttpRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Expectation.objects.select_related("taxon"), pk=pk)
    form = filled(request, TimingForm, **asdict(records.facts_of(row)))
    effect: list[str] = []
    if "preview" in request.POST:
        effect = _effect(row, form) if form.is_valid() else []
    elif request.method == "POST":
        changed = taken(form, lambda: records.expectation_changed(by=request.user, expectation=row, facts=form.facts()))
        if changed is not None:
            messages.success(request, f"Changed: {shipped(row.step).words}, {changed.low} to {changed.high} days.")
            return redirect("timings")
    return form_page(
        request,
        form,
        title=shipped(row.step).words.capitalize(),
        label="Change it",
        cancel_url=reverse("timings"),
        lead=f"For {row.taxon or 'all taxa'}. The middle of the window now: {middle_of(row)} days.",
        template="office/timing.html",
        second="See what it would change",
        effect=effect,
        expectation=row,
        is_as_shipped=row.taxon is None and records.facts_of(row) == records.shipped_facts(row.step),
    )


def _effect(row: Expectation, form: TimingForm) -> list[str]:
    """What the change would do to the round and to the looks at each thing, in sentences; nothing is stored."""
    facts = asdict(form.facts())
    changed = expected_of(row.step, *(facts[name] for name in FACTS if name != "step"))
    return effect_words(effect_of(changed, taxon_id=row.taxon_id, day=timezone.localdate()))


@owners
@require_POST
def timing_reset(request: HttpRequest, pk: int) -> HttpResponse:
    row = get_object_or_404(Expectation, pk=pk)
    records.expectation_reset(by=request.user, expectation=row)
    messages.success(request, f"Back to what Tepal ships: {shipped(row.step).words}.")
    return redirect("timings")
