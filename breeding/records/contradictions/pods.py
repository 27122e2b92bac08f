"""What is seen of a section or cut from it, and does not agree with its flowers, its take and its end."""

from breeding.models import Harvested, Section
from breeding.models.sections import SizeClass
from breeding.records.closed_before import closed_before
from breeding.records.contradictions.early import too_early
from nursery.days import Day
from nursery.models import Act
from nursery.records.core import Contradiction
from nursery.records.milestones import without as apart
from nursery.records.prepared import Prepared

_COUNTED_CUTS = Prepared(
    lambda ids: Harvested.objects.filter(
        act__links__thing__in=ids, act__voided_by__isnull=True, pods__isnull=False
    ).values("act_id", "pods")
)


def section_contradictions(
    section: Section, *, day: Day, pods: int | None = None, without: Act | None = None
) -> list[Contradiction]:
    """For any look at a section: older than its pollination, after its harvest, more pods than flowers."""
    section = apart(section, without)
    flags = too_early(day, section.day0_first, "before_pollination", "This is older than the pollination.")
    if section.closed_on:
        flags.append(Contradiction("section_was_closed", closed_before(section, without)))
    return flags if pods is None else flags + _more_pods_than_flowers(section, pods, f"{pods} pods")


def harvest_contradictions(
    section: Section, *, day: Day, pods: int | None, without: Act | None = None
) -> list[Contradiction]:
    """As for a look, with all that was cut of the section so far."""
    section = apart(section, without)
    flags = section_contradictions(section, day=day)
    if pods is not None:
        before = pods_cut(section.pk, without)
        said = f"{before + pods} pods cut in all" if before else f"{pods} pods"
        flags += _more_pods_than_flowers(section, before + pods, said)
    if section.take == "none":
        flags.append(
            Contradiction("harvest_without_take", "Nothing was swelling at the last look. Another section's tag?")
        )
    return flags


def pods_cut(section: int, without: Act | None = None) -> int:
    """How many pods its harvests counted that were not undone."""
    return sum(row["pods"] for row in _COUNTED_CUTS.rows([section]) if without is None or row["act_id"] != without.pk)


def _more_pods_than_flowers(section: Section, pods: int, said: str) -> list[Contradiction]:
    if section.flowers is not None:
        most, flowers = section.flowers, f"{section.flowers} flowers were counted"
    elif section.size:
        size = SizeClass(section.size)
        most, flowers = size.most, f"{size.label.removesuffix(' flowers')} flowers were told"
    else:
        return []
    if most is None or pods <= most:
        return []
    return [Contradiction("more_pods_than_flowers", f"{said}, but {flowers} at pollination.")]
