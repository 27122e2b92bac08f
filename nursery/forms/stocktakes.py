from nursery.forms.base import ActForm
from nursery.forms.choices import place_field
from nursery.models import Act
from nursery.records.core import NewAct
from nursery.records.stocktakes import not_found


class NotFoundForm(ActForm):
    """It was looked for without success, where it should stand."""

    place = place_field(label="Where it should stand")

    def __init__(self, *args, thing=None, **kwargs):
        initial = {"place": thing.place_id} | (kwargs.pop("initial", None) or {})
        super().__init__(*args, thing=thing, initial=initial, **kwargs)

    def record(self, act: NewAct) -> Act:
        return not_found(act=act, thing=self.thing, place=self.cleaned_data["place"])
