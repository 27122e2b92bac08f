"""Taxa are reference data: added and corrected in place, not by acts. Clones keep their names written out, so a
corrected name is written into them again.
"""

from django.db import transaction

from nursery.cites import appendix_of
from nursery.models import Clone, Person, Taxon
from nursery.parentage import Species
from nursery.records import locks, rights, rows
from nursery.records.descent import settle_tree


def facts_written_out(named: Species) -> dict[str, str]:
    """What is listed of a taxon that somebody wrote out where a plant or a table names it."""
    rank = Taxon.Rank.HYBRID if named.hybrid else Taxon.Rank.SPECIES
    appendix = appendix_of(named.genus, named.epithet)
    return {"genus": named.genus, "epithet": named.epithet, "rank": rank, "cites": appendix}


@transaction.atomic
def taxon_added(*, by: Person, genus: str, epithet: str, rank: str, cites: str, note: str = "") -> Taxon:
    """List a species or a named hybrid.

    Raises:
        Refused: the same name is listed already, or ``by`` may not record.
    """
    rights.must_be_able_to_record(by)
    taxon = Taxon(genus=genus.strip(), epithet=epithet.strip(), rank=rank, cites=cites, note=note.strip())
    rows.check_row(taxon)
    taxon.save()
    return taxon


@transaction.atomic
def taxon_changed(*, by: Person, taxon: Taxon, genus: str, epithet: str, rank: str, cites: str, note: str) -> Taxon:
    """Correct a taxon. The names of its clones, and of all that descend from them, follow."""
    rights.must_be_owner(by)
    taxon = Taxon.objects.select_for_update().get(pk=taxon.pk)
    named_before = (taxon.genus, taxon.epithet, taxon.rank)
    taxon.genus, taxon.epithet, taxon.rank = genus.strip(), epithet.strip(), rank
    taxon.cites, taxon.note = cites, note.strip()
    rows.check_row(taxon)
    taxon.save()
    if named_before != (taxon.genus, taxon.epithet, taxon.rank):
        _write_names_again(taxon)
    return taxon


def _write_names_again(taxon: Taxon) -> None:
    """The names of its clones; those of their offspring follow."""
    for clone in Clone.objects.filter(taxon=taxon).select_related("taxon"):
        locks.lock([clone])
        settle_tree(clone)
