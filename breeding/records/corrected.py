"""What follows when a plant, a spike or a pollen lot turns out to be another one than was told."""

from collections.abc import Iterable

from django.db.models import Q

from breeding.models import PollenLot, Pollinated, Section, SeedLot, SeedPot, Spike
from breeding.records.parts import with_parts
from nursery.models import Act, ActLink, LivingThing, Plant
from nursery.records.plants import touches_clones, with_cuttings


def below_plant(plant: Plant) -> list[LivingThing]:
    return below_spikes(Spike.objects.filter(plant__in=with_cuttings(plant)))


def below_spike(spike: Spike) -> list[LivingThing]:
    return below_spikes([spike])


def below_spikes(spikes: Iterable[Spike]) -> list[LivingThing]:
    """The spikes, the pollen taken from them, and the sections that either had a part in."""
    ids = [spike.pk for spike in spikes]
    lots = PollenLot.objects.filter(thing__born_by__kind="pollen_collected", thing__born_by__links__thing__in=ids)
    packets = with_parts(lots.distinct())
    dabbed = Pollinated.objects.filter(Q(from_spike__in=ids) | Q(lot__in=packets)).values("act__thing")
    return [*spikes, *packets, *Section.objects.filter(Q(spike__in=ids) | Q(pk__in=dabbed))]


def below_pollen(lot: PollenLot) -> list[LivingThing]:
    """The packets split off from this one, and the sections that any of them went on."""
    packets = with_parts([lot])
    dabbed = Pollinated.objects.filter(lot__in=packets).values("act__thing")
    return [*packets[1:], *Section.objects.filter(pk__in=dabbed)]


def below_seed(lot: SeedLot) -> list[LivingThing]:
    """The lots split off from this one."""
    return with_parts([lot])[1:]


def below_pot(pot: SeedPot) -> list[LivingThing]:
    """The pots split off from this one."""
    return with_parts([pot])[1:] if pot.split_last is not None else []


def below_section(section: Section) -> list[LivingThing]:
    """The lots harvested from it and those split off from them: a part takes its cross from a lot that has its own."""
    return with_parts(SeedLot.objects.filter(section=section, split_from=None))


def dabs_follow(section: Section, before: Spike, birth: Act) -> None:
    """Let later dabs of a section count for the spike that it is on now; ``birth`` told of another and is corrected."""
    if section.spike_id == before.pk:
        return
    dabs = Pollinated.objects.filter(act__thing=section.pk, act__voided_by__isnull=True).exclude(act=birth)
    touched = ActLink.objects.filter(act__in=dabs.values("act"))
    already = list(touched.filter(thing=section.spike_id).values_list("act", flat=True))
    touched.filter(thing=before.pk, act__in=already).delete()
    touched.filter(thing=before.pk).update(thing=section.spike_id)
    with_its_pollen = dabs.filter(from_spike=before).values_list("act", flat=True)
    ActLink.objects.bulk_create(ActLink(act_id=pk, thing_id=before.pk) for pk in with_its_pollen)


def resettle_seed(lot: SeedLot) -> None:
    """Let harvested seed be of the cross that its section is now, and a part of what its lot is."""
    if lot.split_from is not None:
        whole = lot.split_from
        lot.cross, lot.section, lot.words = whole.cross, whole.section, whole.words
        lot.save(update_fields=["cross", "section", "words"])
    elif lot.section is not None and lot.cross_id != lot.section.cross_id:
        lot.cross = lot.section.cross
        lot.save(update_fields=["cross"])


def resettle_pot(pot: SeedPot) -> None:
    """Let a pot that was split off hold what its pot holds: seedlings of the same lot."""
    if pot.split_from is not None and pot.lot_id != pot.split_from.lot_id:
        pot.lot = pot.split_from.lot
        pot.save(update_fields=["lot"])


def resettle_pollen(lot: PollenLot) -> None:
    """Let pollen taken here belong to the clones of its spikes."""
    birth = lot.thing.born_by
    if birth.kind == "pollen_collected":
        spikes = Spike.objects.filter(pk__in=birth.links.values("thing")).select_related("plant__clone")
        clones = [spike.plant.clone for spike in spikes]
        of_clones(lot, clones)
        lot.save(update_fields=["clone"])
        touches_clones(birth, clones)
    elif lot.split_from is not None:
        whole = lot.split_from
        of_clones(lot, [whole.clone] if whole.clone else whole.candidates.all())
        lot.words = whole.words
        lot.save(update_fields=["clone", "words"])
        touches_clones(birth, [whole.clone] if whole.clone else [])


def of_clones(lot: PollenLot, clones: Iterable) -> None:
    """Set whose pollen a lot is; of several clones it is mixed. The row is saved by the caller."""
    different = {clone.pk: clone for clone in clones}
    lot.clone = next(iter(different.values())) if len(different) == 1 else None
    lot.candidates.set(different if len(different) > 1 else [])
