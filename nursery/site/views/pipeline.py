"""The pipeline: the season on one page."""

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from breeding.pipeline.axis import axis_for
from breeding.pipeline.gather import Gathered, gather
from breeding.pipeline.lines import Line, lines
from breeding.pipeline.parts import STAGES
from breeding.pipeline.shown import rows
from breeding.pipeline.sift import SORTS, Choice, Totals, sifted, totals, under_way
from breeding.rounds.words import long
from nursery.names import label
from nursery.site.views.lists import tabs_of
from nursery.views.guards import signed_in

Option = tuple[str, str]


@signed_in
@require_safe
def pipeline(request: HttpRequest) -> HttpResponse:
    """The whole page, also where htmx asks: it takes the table out of it, and the address holds what was chosen."""
    return render(request, "crosses/pipeline.html", context(Choice.of(request.GET.dict()), timezone.localdate()))


def context(choice: Choice, today: date) -> dict[str, Any]:
    """All that the page shows for a choice."""
    found = gather(finished=bool(choice.finished))
    every = lines(found, today, finished=bool(choice.finished))
    shown = sifted(every, choice, found.places)
    axis = axis_for(shown, today)
    open_ones = under_way(every)
    return {
        "section": "crosses",
        "tabs": tabs_of("crosses", current="pipeline"),
        "today_words": long(today),
        "count_words": _count_words(len(shown), len(every), choice),
        "totals": _totals(totals(open_ones, found.spikes_open)),
        "choice": choice,
        "stages": list(STAGES.items()),
        "taxa": _taxa(every, found),
        "parents": _parents(every, found),
        "places": _places(every, found),
        "heads": {name: _head(name, choice) for name in SORTS},
        "axis": axis,
        "ticks": axis.ticks,
        "rows": rows(shown, axis),
        "everything": choice.query(stage="", parent="", place="", late="", q=""),
        "any": bool(every),
    }


def _count_words(shown: int, every: int, choice: Choice) -> str:
    what = "lines" if choice.finished else "lines under way"
    return f"{shown:,} of {every:,} {what}" if choice.narrows else f"{every:,} {what if every != 1 else what[:4]}"


def _totals(told: Totals) -> list[dict[str, Any]]:
    bags = f", {told.not_bagged:,} not bagged" if told.may_open else ""
    numbers = [
        (told.forming, "spikes forming"),
        (told.spikes_open, "spikes open"),
        (told.take, "take to read"),
        (told.ripening, "pods ripening"),
        (told.lots, "seed lots waiting"),
        (told.pots, "pots sown"),
        (told.may_open, f"sections may open this week{bags}"),
    ]
    return [{"value": f"{number:,}", "label": words} for number, words in numbers]


def _taxa(every: Iterable[Line], found: Gathered) -> list[Option]:
    return _sorted((f"t{pk}", found.taxa[pk]) for pk in {line.taxon_id for line in every} if pk in found.taxa)


def _parents(every: Iterable[Line], found: Gathered) -> list[Option]:
    trees = found.names.trees
    return _sorted((f"c{pk}", label(trees[pk])) for pk in {line.clone_id for line in every} if pk in trees)


def _places(every: Iterable[Line], found: Gathered) -> list[Option]:
    """The houses and places where anything of it stands, in walking order."""
    used = {one for line in every for one in line.where}
    houses = {one.house for one in used}
    listed = [one for one in found.places.values() if one in used or (not one.within and one.house in houses)]
    return [(str(one.pk), f"{one.house}, {one.within}" if one.within else one.house) for one in listed]


def _sorted(options: Iterable[Option]) -> Sequence[Option]:
    return sorted(options, key=lambda one: one[1].casefold())


def _head(name: str, choice: Choice) -> dict[str, str]:
    """A column that sorts: up at first, then the other way round."""
    turned = {name: "descending", f"-{name}": "ascending"}
    now = {name: "ascending", f"-{name}": "descending"}.get(choice.sort, "")
    wanted = f"-{name}" if turned.get(choice.sort) == "descending" else name
    return {"label": SORTS[name][0], "url": reverse("pipeline") + choice.query(sort=wanted), "sorted": now}
