from django import forms

from breeding.models import Harvested
from breeding.models.pods import Brown, Extent, PodSeen, Swelling
from breeding.records.contradictions.pods import harvest_contradictions, section_contradictions
from breeding.records.pods import bagged, harvested, pods_looked_at, take_read
from nursery.forms.base import ActForm, blank_tag, whole_number, yes_no
from nursery.models import Act
from nursery.records.core import Contradiction, NewAct


def _maybe(label: str, choices, help_text: str = "") -> forms.ChoiceField:
    return forms.ChoiceField(
        label=label,
        required=False,
        choices=[("", "not said"), *choices.choices],
        widget=forms.RadioSelect,
        initial="",
        help_text=help_text,
    )


class TakeForm(ActForm):
    swelling = _maybe("Pods swelling", Swelling, "The answer, five to seven weeks after pollination.")
    brown = _maybe("Stigmas brown", Brown, "Only a hint: unpollinated stigmas brown with age too.")
    pods = whole_number("Pods, if you counted them", 2000)

    def contradictions(self) -> list[Contradiction]:
        pods = self.cleaned_data["pods"]
        return section_contradictions(self.thing, day=self.day_meant, pods=pods, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return take_read(act=act, section=self.thing, **self.facts())


class PodLookForm(ActForm):
    seen = forms.ChoiceField(
        label="The pods",
        choices=PodSeen,
        widget=forms.RadioSelect,
        error_messages={"required": "Say what you see, or “can't tell”."},
    )
    extent = forms.ChoiceField(
        label="Looked at", required=False, choices=Extent, widget=forms.RadioSelect, initial="all"
    )
    bagged = yes_no("Is it in a bag?")
    pods_left = whole_number("Pods left, if some split or fell", 2000)

    def clean_extent(self) -> str:
        return self.cleaned_data["extent"] or "all"

    def contradictions(self) -> list[Contradiction]:
        pods = self.cleaned_data["pods_left"]
        return section_contradictions(self.thing, day=self.day_meant, pods=pods, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return pods_looked_at(act=act, section=self.thing, **self.facts())

    @classmethod
    def initial_from(cls, act: Act):
        return super().initial_from(act) | {"bagged": {True: "yes", False: "no", None: ""}[act.podlook.bagged]}


class BagForm(ActForm):
    def contradictions(self) -> list[Contradiction]:
        return section_contradictions(self.thing, day=self.day_meant, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return bagged(act=act, section=self.thing)


class HarvestForm(ActForm):
    what = forms.ChoiceField(
        label="Cut", choices=Harvested.What, widget=forms.RadioSelect, error_messages={"required": "Say what was cut."}
    )
    pods = whole_number("How many pods", 2000)
    pods_open = whole_number("of them open", 2000)
    tag = blank_tag()

    def contradictions(self) -> list[Contradiction]:
        pods = self.cleaned_data["pods"]
        return harvest_contradictions(self.thing, day=self.day_meant, pods=pods, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        return harvested(act=act, section=self.thing, **self.facts())
