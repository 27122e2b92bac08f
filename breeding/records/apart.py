"""Things as they would be without one act, where more than their own acts counts; nothing is stored."""

from copy import copy

from breeding.milestones.clones import clone_sex
from breeding.models import Spike
from nursery.models import Act, Clone
from nursery.records import milestones


def clone_without(clone: Clone | None, act: Act | None) -> Clone | None:
    """The clone with the sex that its spikes show without this act."""
    if clone is None or act is None:
        return clone
    spikes = Spike.objects.filter(plant__clone=clone, cancelled=False)
    touched = {act.thing_id, *act.links.values_list("thing_id", flat=True)}
    seen = [milestones.without(spike, act) if spike.pk in touched else spike for spike in spikes]
    as_if = copy(clone)
    as_if.sex = clone_sex((spike.sex, spike.sex_from) for spike in seen if not spike.cancelled)["sex"]
    return as_if
