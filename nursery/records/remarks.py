from nursery.models import Act, LivingThing, Remark
from nursery.records.core import Entry, NewAct, recorded
from nursery.records.errors import Refused


@recorded
def remarked(*, act: NewAct, thing: LivingThing, words: str) -> Act:
    """Remember somebody's words about a thing."""
    entry = Entry(act, "remarked", on=[thing], said={"words": words})
    if sent := entry.sent_before():
        return sent
    if not words.strip():
        raise Refused("no_words", "Write what you want to remember.", field="words")
    return entry.keep(thing, Remark(words=words.strip()))
