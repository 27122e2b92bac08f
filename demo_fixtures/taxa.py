"""Species that the nursery grows: real ones, in CITES Appendix II as most of the genus is; none of Appendix I."""

from nursery.models import Taxon

SPECIES = (
    "ampullaria",
    "bicalcarata",
    "boschiana",
    "burbidgeae",
    "glabrata",
    "hamata",
    "jacquelineae",
    "lowii",
    "sanguinea",
    "thorelii",
    "veitchii",
)
NOTES = {
    "bicalcarata": "Wants the wettest corner of the warm house.",
    "hamata": "Slow. Never below 80% air humidity, or the upper pitchers stop.",
    "lowii": "Slow from seed; pods take half a year.",
}


def list_taxa() -> dict[str, Taxon]:
    """The taxa by epithet, made where they are not listed yet."""
    return {
        epithet: Taxon.objects.get_or_create(
            genus="Nepenthes", epithet=epithet, defaults={"cites": Taxon.Appendix.II, "note": NOTES.get(epithet, "")}
        )[0]
        for epithet in SPECIES
    }
