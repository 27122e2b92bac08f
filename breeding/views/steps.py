"""One step: its windows, what the nursery's own log says of it, and whether that came true. For everybody to read."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from breeding.forms.expectations import RISKS
from breeding.learning.fits import Learning, Prior, waits_for
from breeding.learning.gather import STEPS
from breeding.learning.shown import LeftOutside, ShownGroup, groups_of, observed, outside
from breeding.models import Expectation
from breeding.rounds.expected import THINGS, Expectations, source_words
from breeding.rounds.preview import spent_on
from breeding.rounds.stored import stored
from breeding.science.shipped import SHIPPED, shipped
from breeding.science.timings import Timing
from breeding.views.left_out import left_out_now
from breeding.views.step_grace import grace_part
from breeding.words import learned as words
from breeding.words.effects import lost_words
from breeding.words.risk import risk_words
from breeding.words.windows import Window, square, windows
from nursery.names import NamePart
from nursery.views.guards import signed_in

MOST_DRAWN = 12
HERE = (NamePart("this nursery"),)
BEFORE = (NamePart("before anything is seen"),)
LEVEL_WORDS = {"taxon": "kind of plant", "clone": "mother", "spike": ""}
OF_SPIKES = {"clone": "clone"}


@signed_in
@require_safe
def step(request: HttpRequest, code: str) -> HttpResponse:
    if code not in {row.step for row in SHIPPED}:
        raise Http404("There is no such step.")
    found = stored()
    learning, expectations = found.learning(), found.expectations()
    rows = list(Expectation.objects.filter(step=code).select_related("taxon").order_by("taxon__epithet", "pk"))
    common = next((row for row in rows if row.taxon_id is None), None)
    shown = {
        "section": "office",
        "title": shipped(code).words.capitalize(),
        "code": code,
        "rule": words.RULE if code in STEPS else "",
        "rows": [_row(row, opens=request.user.is_owner) for row in rows],
        "logs": [one for row in rows if (one := _log(row, learning))],
        "plain": _plain(code, common, learning),
        "grace": grace_part(rows, expectations, learning),
        "risks": _risks(code, expectations),
        "left_out": words.left_out_words(left_out_now()) if code in STEPS else "",
    }
    return render(request, "office/step.html", shown)


def _row(row: Expectation, *, opens: bool) -> dict[str, Any]:
    """A window as it was shipped or set."""
    return {
        "who": str(row.taxon) if row.taxon else "all taxa",
        "window": f"{row.low} to {row.high}",
        "middle": round(Timing(row.low, row.high).median),
        "said": source_words(row.step, row.low, row.high, row.strength),
        "as_it_stands": row.as_it_stands,
        "risk": risk_words(row.risk),
        "url": reverse("timing", args=[row.pk]) if opens else "",
    }


def _plain(code: str, common: Expectation | None, learning: Learning) -> str:
    """Why the window for all is used as it is; empty where the log says more."""
    if code in words.NOT_LEARNED:
        return words.NOT_LEARNED[code]
    if common is not None and common.as_it_stands:
        return words.AS_IT_STANDS
    return "" if (code, None) in learning.fits else words.NOTHING_YET


def _risks(code: str, expectations: Expectations) -> list[dict[str, Any]]:
    """What each risk that may be accepted costs in looks, and leaves in losses; none of what is not watched."""
    expected, turning = expectations.of(code), expectations.of("turning")
    rows = []
    for risk in sorted({*RISKS, expected.risk}):
        if spent := spent_on(expected, turning, risk):
            told = {"risk": risk_words(risk), "looks": f"{spent.looks:.1f}", "lost": lost_words(spent.lost)}
            rows.append(told | {"now": risk == expected.risk})
    return rows


def _log(row: Expectation, learning: Learning) -> dict[str, Any] | None:
    """What was learned on top of one window; None where that is nothing."""
    fit = learning.fits.get((row.step, row.taxon_id))
    if fit is None or row.as_it_stands:
        return None
    prior = Prior(row.step, row.taxon_id, row.low, row.high)
    waits, things = waits_for(prior, learning), THINGS[row.step]
    left = outside(fit, waits)
    waits = [wait for wait in waits if wait.thing not in fit.outside]
    law, groups = fit.predicted().law, groups_of(fit, waits)
    return {
        "who": str(row.taxon) if row.taxon else "",
        "learned": words.learned_words(len(waits), sum(wait.seen_by is not None for wait in waits), things),
        "outside": [_left(one) for one in left],
        "failed": words.FAILED if prior.name in learning.failed else "",
        "never": words.never_words(getattr(law, "never", 0.0), things),
        "chart": windows(_drawn(row, law, groups)),
        "groups": [_nursery(law, fit.n), *(_group(one, things) for one in groups if one.level != "spike")],
        "spikes": [_group(one, things) for one in groups if one.level == "spike"],
        "seen": _observed(prior, waits, things),
    }


def _left(one: LeftOutside) -> dict[str, Any]:
    url = reverse("tag", args=[one.number]) if one.number else ""
    return {"number": one.number, "url": url, "words": words.outside_words(one.days, one.came)}


def _drawn(row: Expectation, law: Any, groups: Iterable[ShownGroup]) -> list[Window]:
    before = Window(BEFORE, row.low, Timing(row.low, row.high).median, row.high, given=True)
    wide = [one for one in groups if one.level != "spike"][:MOST_DRAWN]
    return [before, _window(HERE, law), *(_window(one.name, one.learned.law) for one in wide)]


def _window(name: tuple[NamePart, ...], law: Any) -> Window:
    low, high = law.window()
    return Window(name, low, law.median, high)


def _nursery(law: Any, n: int) -> dict[str, Any]:
    return {"name": HERE, "level": "", "window": words.days_words(*law.window()), "middle": round(law.median), "n": n}


def _group(one: ShownGroup, things: tuple[str, str]) -> dict[str, Any]:
    law = one.learned.law
    own = OF_SPIKES if things[0] == "spike" else {}
    return {
        "name": one.name,
        "number": one.number,
        "level": own.get(one.level, LEVEL_WORDS[one.level]),
        "shift": words.shift_with_interval(one.shift, one.low, one.high),
        "window": words.days_words(*law.window()),
        "middle": round(law.median),
        "n": one.n,
    }


def _observed(prior: Prior, waits: list, things: tuple[str, str]) -> dict[str, Any] | None:
    found = observed(prior, waits)
    if found is None:
        return None
    today = timezone.localdate()
    return {
        "words": words.observed_words(found.came, found.waiting, found.since, today, things),
        "inside": words.held_words(found.inside.had_come, found.inside.low, found.inside.high),
        "square": square(found.held),
        "rows": [
            {
                "predicted": words.percent(one.predicted),
                "came": words.held_words(one.had_come, one.low, one.high),
            }
            for one in found.held
        ],
    }
