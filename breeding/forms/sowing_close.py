from breeding.forms.sowing import PotClearedForm
from breeding.models import SeedPot
from breeding.records.sowing import pot_cleared
from nursery.forms.base import drop_fields
from nursery.models import Act
from nursery.records.core import NewAct


class SowingCloseForm(PotClearedForm):
    """One reason for all pots of a session that are not sown."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        drop_fields(self, {"day_said", "day_on"})

    def record_of(self, pot: SeedPot, act: NewAct) -> Act:
        return pot_cleared(act=act, pot=pot, **self.facts())
