"""Repairs: each puts right what one flag says, by an act of its own, and settles the flag with it."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.db.models import Q
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from breeding.models import Pollinated, Spike
from breeding.records.contradictions.pods import pods_cut
from breeding.records.spikes import spike_looked
from breeding.words.names import name_parts
from nursery.damm import read_number
from nursery.links import act_url, next_url, thing_url
from nursery.models import Act, Flag, LivingThing, Tag
from nursery.records import registry, rights
from nursery.records.again import told_again
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.repairs import repaired
from nursery.records.telling import tell
from nursery.records.undo import undone
from nursery.site import fetch, pages
from nursery.site.cards.parts import Row, row_of
from nursery.site.meant import meant_rows
from nursery.site.repairs import LEAVING, MISREAD, WAYS
from nursery.site.search import by_words
from nursery.site.views import answered
from nursery.typed_tags import leads_nowhere
from nursery.views.guards import may_record
from nursery.views.hands import hands, signed
from nursery.views.sent import act_id_sent

MOST_CHOICES = 20
OTHER_SEX = {"female": "male", "male": "female"}


@may_record
@require_http_methods(["GET", "HEAD", "POST"])
def repair(request: HttpRequest, pk: int, slug: str) -> HttpResponse:
    """One way to put a flag right: taps record at once, the others lead to a form."""
    flag = get_object_or_404(Flag.objects.select_related("thing", "act__thing"), pk=pk)
    way = next((way for way in WAYS.get(flag.code, ()) if way.slug == slug), None)
    if way is None:
        raise Http404("There is no such page.")
    if not way.taps:
        return _FORMS[slug](request, flag)
    if request.method != "POST":
        return redirect("sort-out")
    return _tapped(request, flag, _TAPS[slug])


def _tapped(request: HttpRequest, flag: Flag, record: Callable[[Flag], Callable[[NewAct], Act]]) -> HttpResponse:
    where = next_url(request, otherwise=reverse("sort-out"))
    act = NewAct(id=act_id_sent(request), **signed(request))
    try:
        done = repaired(act=act, flag=flag, record=record(flag), brings=_brings(flag))
    except (Refused, AlreadySent) as error:
        messages.error(request, str(error))
        return redirect(where)
    if done.kind == "void":  # an undo has no undo of its own
        messages.success(request, f"Undone: {tell(done.void.target)}.")
    else:
        answered.remember(request, done)
    return redirect(where)


# --- at once ---


def _brings(flag: Flag) -> tuple[str, ...]:
    """What a new reading of misread buds is flagged for itself; a reading of flowers is left to be sorted out."""
    spike = _spike_and_sex(flag)[0] if MISREAD in WAYS[flag.code] else None
    return ("buds_misread", "sex_contradicts") if spike and spike.sex_from == "buds" else ("buds_misread",)


def _buds_were_misread(flag: Flag) -> Callable[[NewAct], Act]:
    """The right sex as a look of its own; nothing is said of how far the spike is."""
    spike, sex = _spike_and_sex(flag)
    opened = spike.open_by is not None or spike.stage in {"open", "showing", "over"}
    look = {"seen": "cant_tell", "sex": sex, "sex_from": "flowers" if opened else "buds"}
    return lambda new: spike_looked(act=new, spike=spike, **look)


def _spike_and_sex(flag: Flag) -> tuple[Spike, str]:
    """Which spike was misread, and what it must be."""
    act = flag.act
    if flag.code == "male_pollinated":
        return _touched_spikes(act)[0], "female"
    if flag.code == "pollen_from_female":
        dab = getattr(act, "pollinated", None)
        spikes = [dab.from_spike] if dab else _touched_spikes(act)
        return next((spike for spike in spikes if spike.sex == "female"), spikes[0]), "male"
    look = act.spikelook if act.kind == "spike_look" else act.spikefound
    spike = Spike.objects.get(pk=act.thing_id)
    return spike, OTHER_SEX[look.sex] if flag.code == "clone_other_sex" else look.sex


def _touched_spikes(act: Act) -> list[Spike]:
    links = act.links.filter(thing__kind="spike").order_by("pk").values_list("thing_id", flat=True)
    spikes = Spike.objects.in_bulk(list(links))
    return [spikes[pk] for pk in links]


def _father_is_unknown(flag: Flag) -> Callable[[NewAct], Act]:
    """The pollination that does not fit is told again as one that nobody saw."""
    dab = _dab_of(flag)
    return lambda new: told_again(dab, new=new, lot=None, from_spike=None)


def _it_is_still_here(flag: Flag) -> Callable[[NewAct], Act]:
    """What said that it is gone is taken back."""
    ends = Act.objects.filter(thing=flag.thing_id, kind=LEAVING[flag.thing.kind], voided_by__isnull=True)
    end = ends.order_by("-recorded_at").first()
    if end is None:
        raise Refused("not_gone", "Nothing says any more that it is gone.")
    return lambda new: undone(act=new, target=end)


def _dab_of(flag: Flag) -> Act:
    if flag.act.kind == "pollinated":
        return flag.act
    dabs = Pollinated.objects.filter(act__thing=flag.act.thing_id, act__voided_by__isnull=True).select_related("act")
    if dabs.count() != 1:
        raise Refused(
            "which_dab", "This section was pollinated several times. Open it and correct the dab that was wrong."
        )
    return dabs[0].act


# --- by a form ---


def _estimate(request: HttpRequest, flag: Flag) -> HttpResponse:
    """The form for estimating the seed again, filled with what was sown at least."""
    lot = registry.instance_of(flag.thing)
    values = {"flag": flag.pk, "next": reverse("sort-out"), "estimate_from": "guessed"}
    sown = {"seeds": lot.seeds_sown} if lot.seeds_sown else {}
    return redirect(f"{act_url(lot, 'clean')}?{urlencode(values | sown)}")


def _flowers(request: HttpRequest, flag: Flag) -> HttpResponse:
    """The form of the pollination, its flowers as many as there were pods."""
    link = flag.act.links.filter(thing__kind="section").select_related("thing__born_by").first()
    section = link.thing if link else flag.act.thing
    pods = pods_cut(section.pk) if flag.act.kind == "harvested" else _pods(flag.act)
    values = {"flag": flag.pk, "next": reverse("sort-out")} | ({"flowers": pods} if pods is not None else {})
    return redirect(f"{reverse('correct', kwargs={'pk': section.born_by_id})}?{urlencode(values)}")


def _pods(act: Act) -> int | None:
    accessor = registry.act_kind(act.kind).accessor
    detail = getattr(act, accessor) if accessor else None
    return getattr(detail, "pods_left", getattr(detail, "pods", None))


def _on_its_own_form(slug: str) -> Callable[[HttpRequest, Flag], HttpResponse]:
    """A form of the thing itself, which says what became of it."""

    def opened(request: HttpRequest, flag: Flag) -> HttpResponse:
        values = {"flag": flag.pk, "next": reverse("sort-out")}
        return redirect(f"{act_url(registry.instance_of(flag.thing), slug)}?{urlencode(values)}")

    return opened


def _swapped(request: HttpRequest, flag: Flag) -> HttpResponse:
    thing = registry.instance_of(flag.thing)
    carries = thing if Tag.objects.filter(thing=flag.thing, retired=False).exists() else None
    if carries is None:
        raise Http404("This carries no tag.")
    where = reverse("swapped", kwargs={"slug": registry.thing_kind(thing.kind).slug, "pk": thing.pk})
    return redirect(f"{where}?{urlencode({'flag': flag.pk})}")


def _another(request: HttpRequest, flag: Flag) -> HttpResponse:
    """Choose the thing that was meant; the same form opens on it, and what is recorded takes the old act's place."""
    page = pages.page_correcting(flag.act)
    if page is None:
        raise Http404("This record can be undone, but not told of another thing.")
    if not rights.may_undo(hands(request), flag.act, timezone.localdate()):
        raise PermissionDenied("Somebody else recorded this on another day. Ask them or an owner.")
    told_of = page.stands_on(flag.act)
    number, q = request.GET.get("number", "").strip(), request.GET.get("q", "").strip()
    meant = _of_number(number, told_of)
    if meant is not None:
        return redirect(_on(flag, meant))
    choices = [(one, _on(flag, one)) for one in _choices(told_of, q)]
    return render(request, "tags/another.html", _another_context(flag, told_of, choices, number=number, q=q))


def _another_context(
    flag: Flag, told_of: LivingThing, choices: list[tuple[Any, str]], *, number: str, q: str
) -> dict[str, Any]:
    words = registry.thing_kind(told_of.kind).words
    today = timezone.localdate()
    return {
        "section": "office",
        "sentence": flag.sentence,
        "kind_words": words,
        "name_parts": name_parts(told_of),
        "url": thing_url(told_of),
        "typed": number[:40],
        "wrong": f"That is the number of no other {words}. Look at the tag again." if number else "",
        "meant": _meant(number, told_of),
        "q": q[:100],
        "rows": [_row(one, url, today) for one, url in choices],
    }


def _meant(number: str, told_of: LivingThing) -> list[Row]:
    """Others of this kind whose number is near one that leads nowhere; each opens this page with its own."""
    if not leads_nowhere(number):
        return []
    rows = meant_rows(number, Q(thing__kind=told_of.kind) & ~Q(thing=told_of.pk))
    return [replace(row, url=f"?{urlencode({'number': row.number})}") for row in rows]


def _row(thing: Any, url: str, today: Any) -> Row:
    row = row_of(thing, today, where=True)
    return Row(url, number=row.number, name_parts=row.name_parts, text=row.text, sub=row.sub)


def _on(flag: Flag, thing: LivingThing) -> str:
    values = {"on": thing.pk, "flag": flag.pk, "next": reverse("sort-out")}
    return f"{reverse('correct', kwargs={'pk': flag.act_id})}?{urlencode(values)}"


def _of_number(typed: str, like: LivingThing) -> LivingThing | None:
    """The other thing of this kind that carries the typed number."""
    number = read_number(typed)
    tag = Tag.objects.filter(number=number, thing__kind=like.kind).exclude(thing=like.pk).first() if number else None
    return registry.instance_of(tag.thing) if tag else None


def _choices(like: LivingThing, q: str) -> list[Any]:
    """What is searched for among things of this kind; else those that stand where this one stands."""
    if q:
        return [one for group in by_words(q, [like.kind]) for one in group.things if one.pk != like.pk]
    rows = fetch.open_things(like.kind).exclude(pk=like.pk)
    here = fetch.place_of(fetch.thing_or_404(like.kind, like.pk))
    near = rows.filter(**{fetch.place_path(like.kind): here}) if here and fetch.place_path(like.kind) else rows
    return fetch.listed(near.order_by("-pk")[:MOST_CHOICES])


_TAPS = {"misread": _buds_were_misread, "unknown-father": _father_is_unknown, "still-here": _it_is_still_here}
_FORMS = {
    "estimate": _estimate,
    "flowers": _flowers,
    "swapped": _swapped,
    "another": _another,
    "gone": _on_its_own_form("gone"),
    "released": _on_its_own_form("release"),
    "elsewhere": _on_its_own_form("move"),
}
