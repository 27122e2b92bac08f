"""The round of a day on paper."""

from collections.abc import Iterable

from django.http import HttpRequest, HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from breeding.rounds import words
from breeding.rounds.order import Group
from breeding.rounds.tasks import Round, Task, round_for
from breeding.typed_answers import codes_for
from breeding.views.round import MOST_REST, day_of_address
from labels.codes import AddressUnfit, tag_url
from labels.round_paper import PaperGroup, PaperRound, PaperTask, print_round
from labels.views.addresses import address_of
from nursery.cautions import brief_for
from nursery.closings import banners
from nursery.records.house import house
from nursery.views.guards import signed_in


@signed_in
@require_safe
@never_cache
def round_paper(request: HttpRequest, day: str) -> HttpResponse:
    """The PDF of a day; ``codes=yes`` adds a code to each row, ``rest=yes`` what does not fit the minutes."""
    on = day_of_address(day)
    shown = round_for(on, most_rest=MOST_REST)
    address = address_of(request) if request.GET.get("codes") == "yes" else ""
    groups = [_group(group, address) for group in shown.groups]
    tasks = shown.today
    if request.GET.get("rest") == "yes":
        groups += [_group(group, address, optional=True) for group in shown.rest_groups]
        tasks += shown.rest
    paper = PaperRound(
        house=house().name,
        title=f"{words.WEEKDAYS[on.weekday()]} round, {words.long(on)}",
        lead=_lead(shown),
        groups=tuple(groups),
        banners=tuple(banner.words for banner in banners(request.user)),
        cautions=tuple(_cautions(tasks)),
    )
    return HttpResponse(
        print_round(paper),
        content_type="application/pdf",
        headers={"Content-Disposition": f'attachment; filename="round-{on:%Y-%m-%d}.pdf"'},
    )


def _lead(shown: Round) -> str:
    if not shown.today:
        return ""
    tasks = "1 task" if len(shown.today) == 1 else f"{len(shown.today)} tasks"
    return f"{tasks}, about {shown.minutes_needed} min. As the books stood when this was printed."


def _group(group: Group, address: str, *, optional: bool = False) -> PaperGroup:
    place = ", ".join(filter(None, (group.house, group.within)))
    return PaperGroup(place, tuple(_task(task, address) for task in group.tasks), optional)


def _task(task: Task, address: str) -> PaperTask:
    return PaperTask(
        number=task.number,
        title=task.title,
        due=task.due_words,
        name=tuple((part.text, part.style) for part in task.name_parts),
        sub=task.sub,
        reason=" ".join(filter(None, (task.reason, _partners(task), task.beside_words))),
        answers=codes_for(task.kind),
        caution=brief_for(_cautions([task])),
        code=_code(address, task.number),
    )


def _cautions(tasks: Iterable[Task]) -> list[str]:
    """Of these tasks and of the looks that stand beside them, each once."""
    all_of = (one for task in tasks for one in (task, *task.beside))
    return list(dict.fromkeys(caution for one in all_of for caution in one.cautions))


def _partners(task: Task) -> str:
    """Pollen that is good that day, or the females that it could serve, all: paper cannot be asked for more."""
    good, serves = ([f"{one.name} ({one.words})" for one in side] for side in (task.partners, task.serves))
    told = ((f"Good {task.when}", good), ("It could serve", serves))
    return " ".join(f"{lead}: {words.listed(named)}." for lead, named in told if named)


def _code(address: str, number: int | None) -> str:
    """Nothing where the address is unfit: the number beside it serves as well."""
    if not address or number is None:
        return ""
    try:
        return tag_url(address, number)
    except AddressUnfit:
        return ""
