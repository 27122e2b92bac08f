"""What a change of the public address means for the tags that are printed already."""

from django.db.models import Count

from labels import contents
from nursery.models import Tag

DIGITS = "The digits on every tag keep working: typed under Find, they open the thing whatever the address is."


def consequences(new: str) -> list[str]:
    """What to know before tags carry ``new``: sentences, the gravest first; none where no print leads elsewhere."""
    found = [_kept_answering(address, count) for address, count in _carried(new)]
    unknown = _printed_before_history()
    if unknown:
        found.append(
            f"{unknown:,} {'tag was' if unknown == 1 else 'tags were'} printed before prints were kept. Which address "
            "they carry is not known; most likely one that was set here before."
        )
    if not found:
        return []
    reprint = f"Tags printed from now on carry {new or 'the address in use then'}. Under Labels, those that carry "
    return [*found, DIGITS, reprint + "another are listed, to be printed anew as you come by."]


def carrying_another_count(address: str) -> int:
    """How many tags in use carry another address in their print."""
    return contents.carrying().exclude(carries__iexact=address).count()


def _carried(new: str) -> list[tuple[str, int]]:
    others = contents.carrying().exclude(carries__iexact=new).order_by()
    counts = others.values_list("carries").annotate(count=Count("pk", distinct=True))
    return sorted(counts, key=lambda one: (-one[1], one[0]))


def _kept_answering(address: str, count: int) -> str:
    it = "It" if count == 1 else "They"
    return (
        f"{_tags(count)} in use with the address {address} in {'its' if count == 1 else 'their'} code. "
        f"{it} will go on leading there: keep that name, and let it answer or lead on to the new one, with the same "
        f"ending (/t/ and the number), for as long as {it.lower()} {'hangs' if count == 1 else 'hang'}."
    )


def _printed_before_history() -> int:
    printed = Tag.objects.filter(retired=False, printed_at__isnull=False, thing__isnull=False)
    return printed.filter(prints=None, bindings=None).count()


def _tags(count: int) -> str:
    return f"{count:,} {'tag is' if count == 1 else 'tags are'}"
