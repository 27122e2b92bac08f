"""When the spikes of a clone, or of one plant, were in flower, and who read their sex from what."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import F, Q
from django.urls import reverse

from breeding.words.ages import day_words
from breeding.words.blooms import Bloom, Chart, chart_of
from breeding.words.stages import sex_words
from nursery.days import Day
from nursery.links import act_url, thing_url
from nursery.models import Act
from nursery.site.cards.parts import MOST_ROWS, Link, Listing, Row, listing
from nursery.site.fetch import things

MOST_SPIKES = 200
"""Spikes of one clone that are looked at for its history; the latest ones."""
_LOOKS = ("spike_found", "spike_look")


@dataclass(frozen=True)
class BloomRow:
    """One spike in the table beside the picture."""

    url: str
    number: int | None
    sex: str
    first: str
    last: str
    days: int


@dataclass(frozen=True)
class History:
    """The picture with its table."""

    chart: Chart
    rows: tuple[BloomRow, ...]


def spikes_of(**which: Any) -> list[Any]:
    """The spikes of a clone or plant, the latest first."""
    rows = things("spike").filter(cancelled=False, **which)
    return list(rows.order_by(F("found_last").desc(nulls_last=True), "-pk")[:MOST_SPIKES])


def history(spikes: Iterable[Any], today: date) -> History | None:
    """None where no spike was seen in flower on a known day."""
    blooms = [bloom for spike in spikes if (bloom := _bloom(spike))]
    blooms.sort(key=lambda bloom: bloom.first, reverse=True)
    chart = chart_of(blooms)
    return History(chart, tuple(_row(bloom, today) for bloom in blooms)) if chart else None


def _bloom(spike: Any) -> Bloom | None:
    if spike.open_by is None:
        return None
    looked = spike.last_look or spike.open_by
    last = max(spike.over_by or looked, spike.open_by)
    sex = spike.sex if spike.sex in {"female", "male"} else ""
    return Bloom(spike.open_by, last, sex, thing_url(spike), spike.number, on=spike.over_by is None)


def _row(bloom: Bloom, today: date) -> BloomRow:
    last = day_words(bloom.last, today)
    sex = bloom.sex or "not read"
    until = f"{last}, not seen over yet" if bloom.on else last
    return BloomRow(bloom.url, bloom.number, sex, day_words(bloom.first, today), until, bloom.days)


def evidence(spikes: Iterable[Any], today: date) -> Listing:
    """Every reading of a spike's sex that counts, the latest first: from what, on which day, by whom."""
    by_pk = {spike.pk: spike for spike in spikes if spike.sex}
    acts = Act.objects.filter(kind__in=_LOOKS, thing__in=by_pk, voided_by__isnull=True)
    told = acts.exclude(Q(spikefound__sex="") | Q(spikelook__sex="")).select_related("by", "spikefound", "spikelook")
    readings = list(told.order_by(F("day_last").desc(nulls_last=True), "-recorded_at"))
    doubted = len({_look_of(act).sex for act in readings}) > 1
    rows = [_reading(act, by_pk[act.thing_id], today, doubted=doubted) for act in readings[: MOST_ROWS + 1]]
    return listing("What its sex rests on", rows, empty="No spike of it was read yet.")


def _look_of(act: Act) -> Any:
    return act.spikefound if act.kind == "spike_found" else act.spikelook


def _reading(act: Act, spike: Any, today: date, *, doubted: bool) -> Row:
    """Where both sexes were read, each reading leads to what may put it right."""
    look = _look_of(act)
    repairs = (
        Link(
            "Correct this reading", f"{reverse('correct', kwargs={'pk': act.pk})}?next={thing_url(spike.plant.clone)}"
        ),
        Link("Its tag was swapped", act_url(spike, "swapped")),
    )
    day = Day(act.day_first, act.day_last, act.said).words(today)
    read = "by its open flowers" if look.sex_from == "flowers" else "by its buds"
    told = f"{sex_words(look.sex)} {read}"
    return Row(thing_url(spike), spike.number, text=told, sub=f"{day}, {act.by.name}", links=repairs if doubted else ())
