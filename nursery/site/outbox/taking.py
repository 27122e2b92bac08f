"""Record one act that a phone sent, by the page, form and record function that the web form has, and say how it went.

What contradicts the books is taken and flagged; what cannot be recorded is held for a person to look at.
"""

import logging
from dataclasses import dataclass, replace
from typing import Any

from django.db import OperationalError
from django.http import Http404

from nursery.days import Day
from nursery.forms.base import ActForm, Sending
from nursery.links import thing_url
from nursery.models import Act, NeedsALook, Person
from nursery.records import outbox, registry
from nursery.records.core import NewAct
from nursery.records.errors import AlreadySent, Refused
from nursery.records.hands import lent
from nursery.records.house import house
from nursery.records.telling import tell
from nursery.site import pages
from nursery.site.outbox import reading
from nursery.site.outbox.beside import undo, walk
from nursery.site.outbox.reading import Tap, Unreadable
from nursery.site.views import sent_twice

log = logging.getLogger(__name__)

Answer = dict[str, Any]
OTHER_VALUES = "This was recorded before with other values. The first is kept; both stand in the office."
BUSY = "The server was busy. It is sent again by itself."
BROKEN = "Something went wrong here while it was recorded. Look whether it is in the books, and enter it if not."


class _SignInNeeded(Exception):
    """Only the named person may send this, signed in on the phone."""


@dataclass(frozen=True)
class _OtherValues(Exception):
    kept: Act
    rows: list[sent_twice.Row]


def take(sent: Any, sender: Person) -> Answer:
    """Take one act of a list; whatever happens to it, the others go on. ``sender`` is signed in and may record."""
    echo = {"id": reading.id_as_sent(sent)}
    try:
        return echo | _answer(sent, sender)
    except OperationalError:
        log.exception("An act from a phone met a busy database.")
        return echo | {"is": "try_again", "sentence": BUSY}
    except Exception:  # one act must never stop the others, nor come back for ever
        log.exception("An act from a phone could not be recorded.")
        return echo | _hold(sent, sender, BROKEN)


def _answer(sent: Any, sender: Person) -> Answer:
    before = NeedsALook.objects.filter(digest=outbox.digest_of(sent)).first()
    if before is not None:
        return _held(before)
    try:
        tap = reading.read(sent)
        return _taken(*_recorded(tap, sender))
    except _SignInNeeded as error:
        return {"is": "sign_in_needed", "sentence": str(error)}
    except (Unreadable, Refused) as error:
        return _hold(sent, sender, " ".join([error.sentence, *getattr(error, "reasons", [])]))
    except _OtherValues as other:
        row = _hold(sent, sender, OTHER_VALUES, why=NeedsALook.Why.OTHER_VALUES)
        return row | {"rows": [vars(one) | {"differs": one.differs} for one in other.rows]}


def _recorded(tap: Tap, sender: Person) -> tuple[Act, bool]:
    """The act, and whether it was on record before."""
    known = Act.objects.filter(pk=tap.id).exists()
    sending = Sending(tap.id, _signing(tap, sender), phone_of=sender if tap.hands and tap.hands != sender else None)
    beside = {"walk": walk, "undo": undo}.get(tap.act)
    if beside is not None:
        try:
            return beside(tap, sending), known
        except AlreadySent as error:
            raise _OtherValues(error.act, [sent_twice.Row("What", tell(error.act), tap.act)]) from error
    return _by_form(tap, sending), known


def _signing(tap: Tap, sender: Person) -> Person:
    """Who signs: the hands that held the phone, with a grower's rights where somebody else is signed in."""
    if tap.hands is None or tap.hands == sender:
        return sender
    if not tap.hands.is_active:
        raise Unreadable(f"{tap.hands} has left. Enter it for them if it was so.")
    if not tap.hands.may_record:
        raise Unreadable(f"{tap.hands} may read here but not record. Enter it for them if it was so.")
    if not house().shared_phones:
        raise _SignInNeeded(f"Sign in as {tap.hands} to send this.")
    return lent(tap.hands)


def _by_form(tap: Tap, sending: Sending) -> Act:
    page = _page(tap)
    form = page.form(tap.values, thing=tap.thing, today=tap.day)
    if not form.is_valid():
        raise Unreadable(_what_is_wrong(form))
    new = form.new_act(sending)
    if form.day is None:  # what was told of an earlier day was not done at the hour of the tap
        new = replace(new, day=Day.on(tap.day), at=tap.time)
    try:
        return form.record(new)
    except AlreadySent as error:
        if form.day is None and (again := _sent_by_the_web_form(form, new, error.act)):
            return again
        rows = sent_twice.rows(form, error.act, same_kind=error.act.kind == page.act_kind)
        raise _OtherValues(error.act, rows) from error


def _page(tap: Tap):
    try:
        return pages.page_on(tap.thing.kind, tap.act) if tap.thing is not None else pages.new_page(tap.act)
    except Http404 as error:
        of = f"of a {registry.thing_kind(tap.thing.kind).words}" if tap.thing is not None else "without a thing"
        raise Unreadable(f"Nothing like “{tap.act}” can be recorded {of}.") from error


def _sent_by_the_web_form(form: ActForm, new: NewAct, known: Act) -> Act | None:
    """A form that got through, though the phone never heard so, said "today" and no time: it is the same act."""
    if new.day is None or (known.day_first, known.day_last) != (new.day.first, new.day.last):
        return None
    try:
        return form.record(replace(new, day=None, at=None))
    except (AlreadySent, Refused):
        return None


def _what_is_wrong(form: ActForm) -> str:
    """Each wrong field with its sentence."""
    fields = {name: field.label or name for name, field in form.fields.items()}
    said = [
        f"{fields[name]}: {' '.join(errors)}" if name in fields else " ".join(errors)
        for name, errors in form.errors.items()
    ]
    return " ".join(said)


def _taken(act: Act, again: bool) -> Answer:
    flags = list(act.flags.order_by("pk").values_list("sentence", flat=True))
    answer = {"is": "flagged" if flags else "recorded", "again": again, "words": tell(act)}
    return answer | {"url": thing_url(registry.instance_of(act.thing)), "flags": flags}


def _hold(sent: Any, sender: Person, sentence: str, *, why: str = NeedsALook.Why.UNTAKEN) -> Answer:
    named = {"act_id": reading.act_id_of(sent), "hands": reading.hands_of(sent), "thing": reading.thing_row_of(sent)}
    return _held(outbox.held(sent=sent, sentence=sentence, sender=sender, why=why, **named))


def _held(row: NeedsALook) -> Answer:
    is_other = row.why == NeedsALook.Why.OTHER_VALUES
    return {"is": "other_values" if is_other else "needs_a_look", "sentence": row.sentence}
