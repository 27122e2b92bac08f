"""The office's front page: what there is, and what waits."""

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_safe

from nursery.models import Person
from nursery.records.flags import open_flags
from nursery.records.outbox import waiting as held
from nursery.views.guards import signed_in


@dataclass(frozen=True)
class Door:
    """One page of the office: its URL's name, icon and words; ``owner`` when only owners may open it."""

    name: str
    icon: str
    label: str
    hint: str
    owner: bool = False

    @property
    def url(self) -> str:
        return reverse(self.name)


DOORS = (
    Door("sort-out", "trouble", "To sort out", "What was recorded and does not fit together"),
    Door("journal", "list", "Journal", "Everything recorded, newest first"),
    Door("people", "person", "People", "Who may sign in, and codes for it", owner=True),
    Door("my-sessions", "person", "Signed in", "Where you are signed in, and signing out everywhere else"),
    Door("my-password", "person", "Your password", "Set or change the one that you sign in with"),
    Door("office-places", "house", "Places", "Houses, benches and trays, in walking order"),
    Door("taxa", "plant", "Taxa", "Species and named hybrids, with their CITES appendix"),
    Door("routines", "check", "Routines", "What is done again and again, and on which days"),
    Door("round-settings", "list", "Round", "Minutes a day, and which kinds of task are asked", owner=True),
    Door("calendars", "clock", "Calendar", "The days to come in the calendar program that you use"),
    Door("timings", "clock", "Timings", "How long each step takes, and how often to look"),
    Door("house-settings", "tag", "House", "The nursery's name, the address on its tags", owner=True),
    Door("moving-in", "packet", "Moving in", "Tables from a spreadsheet: plants, pots, seed, pollen", owner=True),
    Door("export", "bag", "Export", "Every record as tables, one by one or all at once", owner=True),
    Door("backup", "lot", "Backup", "How to make one and prove it", owner=True),
    Door("help", "flower", "Help", "Every part of Tepal in a few words, undo, vague days, safety"),
    Door("about", "seedling", "About", "Licences of what Tepal is made of"),
)


@signed_in
@require_safe
def office(request: HttpRequest) -> HttpResponse:
    waiting = open_flags().count() + held().count()
    links = [_link(door, waiting) for door in doors_for(request.user)]
    return render(request, "office/office.html", {"section": "office", "links": links})


def doors_for(person: Person) -> list[Door]:
    return [door for door in DOORS if person.is_owner or not door.owner]


def _link(door: Door, waiting: int) -> dict[str, str]:
    hint = door.hint
    if door.name == "sort-out" and waiting:
        hint = "1 record waits for somebody to look" if waiting == 1 else f"{waiting} records wait for somebody to look"
    return {"url": door.url, "icon": door.icon, "label": door.label, "hint": hint}
