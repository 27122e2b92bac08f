from django import forms
from django.db.models import Count

from breeding.forms.choices import PollenChoice, initial_pollen
from breeding.models import PollenLot, Pollinated, Section, Spike
from breeding.models.sections import SizeClass
from breeding.records.contradictions.pollination import pollination_contradictions, tie_contradictions
from breeding.records.crosses import dab_fathers
from breeding.records.sections import section_dabbed, section_pollinated
from nursery.forms.base import ActForm, blank_tag, whole_number, words, yes_no
from nursery.models import Act
from nursery.records.core import Contradiction, NewAct

MOST_TIES = 8


class Dab(PollenChoice):
    covered_before = yes_no("Was it covered before?")
    covered_after = yes_no("Is it covered now?")

    def put_ready_first(self) -> None:
        """What is chosen already stands where the eye falls, not somewhere down a dozen packets."""
        ready, field = self["pollen"].value(), self.fields["pollen"]
        field.choices = sorted(field.choices, key=lambda choice: choice[0] != ready)

    def dab(self) -> dict:
        data = self.cleaned_data
        return {
            "lot": self.chosen.lot,
            "from_spike": self.chosen.from_spike,
            "covered_before": data["covered_before"],
            "covered_after": data["covered_after"],
        }

    def objections_of(self, spike, section) -> list[Contradiction]:
        lot, from_spike = self.chosen.lot, self.chosen.from_spike
        told = {"lot": lot, "from_spike": from_spike, "day": self.day_meant}
        return pollination_contradictions(spike, **told, section=section, without=self.corrects)


class PollinateForm(Dab, ActForm):
    """The first dabbing of a section, on the page of its spike."""

    tie = words("Its tie", 40, help_text="For example: red wool. It tells this section from the next one.")
    size = forms.ChoiceField(
        label="About how many flowers",
        required=False,
        choices=[("", "not said"), *SizeClass.choices],
        widget=forms.RadioSelect,
        initial="",
    )
    flowers = whole_number("or counted", 2000)
    tag = blank_tag()

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.put_ready_first()
        self.fields["tie"].offered = _ties_in_use(self.thing)
        first = ["pollen", "pollen_number", "tie", "tag", "size", "flowers"]
        last = ["day_said", "day_on", "note"]
        self.order_fields([*first, *(name for name in self.fields if name not in {*first, *last}), *last])

    def contradictions(self) -> list[Contradiction]:
        tie = tie_contradictions(self.thing, self.cleaned_data["tie"], without=self.corrects)
        return [*self.objections_of(self.thing, self.corrects and self.corrects.thing), *tie]

    def record(self, act: NewAct) -> Act:
        facts = {name: self.cleaned_data.get(name) for name in ("tie", "size", "flowers", "tag")}
        return section_pollinated(act=act, spike=self.thing, **facts, **self.dab())

    @classmethod
    def initial_from(cls, act: Act):
        return super().initial_from(act) | _initial_dab(act)


def _ties_in_use(spike: Spike | None) -> list[str]:
    """The ties of open sections, those used most first, without the ones that this spike has already."""
    open_ones = Section.objects.filter(cancelled=False, closed_on__isnull=True).exclude(tie="")
    here = open_ones.filter(spike=spike) if spike else open_ones.none()
    used = open_ones.exclude(tie__in=here.values("tie")).values_list("tie")
    return [tie for tie, _ in used.annotate(times=Count("pk")).order_by("-times", "tie")[:MOST_TIES]]


def _of_father(fathers: set[int]) -> list[str]:
    """Packets and spikes of the one father; of several nobody knows which packet holds the same."""
    if len(fathers) != 1:
        return []
    lots = PollenLot.objects.filter(clone__in=fathers).order_by("-pk").values_list("pk", flat=True)
    spikes = Spike.objects.filter(plant__clone__in=fathers).order_by("-pk").values_list("pk", flat=True)
    return [*(f"lot:{pk}" for pk in lots), *(f"spike:{pk}" for pk in spikes)]


class DabForm(Dab, ActForm):
    """Another dabbing of a section, mostly with the pollen that it had before."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["pollen"].initial = self._as_before()
        self.put_ready_first()

    def _as_before(self) -> str | None:
        """The choice that gives it the father of its first dab again, from what was used last and is still there."""
        offered = dict(self.fields["pollen"].choices)
        counted = Pollinated.objects.filter(act__thing=self.thing.pk, act__voided_by__isnull=True)
        dabs = counted.select_related("lot", "from_spike__plant").order_by("act__recorded_at")
        told = [(dab_fathers(dab.lot, dab.from_spike), dab) for dab in sorted(dabs, key=lambda dab: dab.order is None)]
        alike = [initial_pollen(dab) for fathers, dab in told if fathers == told[0][0]]
        fathers = told[0][0] if told else set()
        return next((value for value in [*reversed(alike), *_of_father(fathers)] if value in offered), None)

    def contradictions(self) -> list[Contradiction]:
        return self.objections_of(self.thing.spike, self.thing)

    def record(self, act: NewAct) -> Act:
        return section_dabbed(act=act, section=self.thing, **self.dab())

    @classmethod
    def initial_from(cls, act: Act):
        return super().initial_from(act) | _initial_dab(act)


def _initial_dab(act: Act) -> dict:
    dab = act.pollinated
    said = {True: "yes", False: "no", None: ""}
    return {
        "pollen": initial_pollen(dab),
        "covered_before": said[dab.covered_before],
        "covered_after": said[dab.covered_after],
    }
