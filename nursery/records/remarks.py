from collections.abc import Sequence

from nursery.models import Act, LivingThing, Remark
from nursery.records import registry
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def remarked(*, act: NewAct, thing: LivingThing, words: str, also: Sequence[LivingThing] = ()) -> Act:
    """Remember somebody's words about a thing, or about several of which it may be one (``also``)."""
    also = list(also) or _also_before(act)
    entry = Entry(act, "remarked", on=[thing, *also], said={"words": words})
    if sent := entry.sent_before():
        return sent
    if not words.strip():
        raise Refused("no_words", "Write what you want to remember.", field="words")
    return entry.keep(thing, Remark(words=words.strip()), touched=also)


def _also_before(act: NewAct) -> list[LivingThing]:
    """A corrected remark is about the same things as before."""
    links = act.replaces.links.order_by("pk").select_related("thing") if act.replaces else []
    return [registry.instance_of(link.thing) for link in links]
