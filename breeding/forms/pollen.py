from typing import Any

from django import forms

from breeding.models import PollenLot, Spike
from breeding.models.pollen import PollenStorage
from breeding.records.contradictions.spikes import pollen_contradictions
from breeding.records.pollen import pollen_collected, pollen_finished, pollen_received, pollen_stored
from nursery.forms.base import ActForm, blank_tag, words
from nursery.forms.choices import CloneField
from nursery.models import Act
from nursery.records.core import Contradiction, NewAct


def _storage(**kwargs) -> forms.ChoiceField:
    return forms.ChoiceField(label="Kept", choices=PollenStorage, widget=forms.RadioSelect, **kwargs)


class SpikesField(forms.ModelMultipleChoiceField):
    def label_from_instance(self, spike: Spike) -> str:
        return str(spike.plant.clone)


class CollectForm(ActForm):
    """Pollen from the spike of this page, and from others if they share the packet: mixed pollen."""

    storage = _storage(initial="bench")
    also = SpikesField(
        label="In the same packet, from",
        queryset=Spike.objects.none(),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text="Only for mixed pollen.",
    )
    tag = blank_tag()

    def __init__(self, *args, thing=None, **kwargs):
        super().__init__(*args, thing=thing, **kwargs)
        males = Spike.objects.filter(sex="male", stage__in=["open", "showing"], cancelled=False, closed_on=None)
        told = Spike.objects.filter(pk__in=_spikes_of(self.corrects) if self.corrects else [])
        self.fields["also"].queryset = (males | told).exclude(pk=thing.pk).select_related("plant__clone")

    @property
    def spikes(self) -> list[Spike]:
        return [self.thing, *self.cleaned_data["also"]]

    def contradictions(self) -> list[Contradiction]:
        return pollen_contradictions(self.spikes, day=self.day_meant, without=self.corrects)

    def record(self, act: NewAct) -> Act:
        data = self.cleaned_data
        return pollen_collected(act=act, spikes=self.spikes, storage=data["storage"], tag=data.get("tag"))

    @classmethod
    def initial_from(cls, act: Act) -> dict[str, Any]:
        return super().initial_from(act) | {"also": _spikes_of(act)[1:]}


def _spikes_of(act: Act) -> list[int]:
    """The spikes that a packet was taken from, the one of the page first."""
    return list(act.links.filter(thing__kind="spike").order_by("pk").values_list("thing_id", flat=True))


class PollenReceivedForm(ActForm):
    clone = CloneField(label="Whose pollen, if that clone is entered")
    words = words("or in words", 120, help_text="For example: lowii from the man with the blue van")
    storage = _storage(initial="unknown")
    tag = blank_tag()

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["day_said"].label = "Collected when, as told"
        self.fields["day_said"].initial = "unknown"

    def record(self, act: NewAct) -> Act:
        return pollen_received(act=act, **self.facts())


class PollenStoredForm(ActForm):
    storage = _storage()

    def record(self, act: NewAct) -> Act:
        return pollen_stored(act=act, lot=self.thing, storage=self.cleaned_data["storage"])


class PollenFinishedForm(ActForm):
    thing: PollenLot

    def record(self, act: NewAct) -> Act:
        return pollen_finished(act=act, lot=self.thing)
