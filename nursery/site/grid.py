"""A printed round typed in: each row is a tag's number, an answer in a short word, and the day."""

import uuid
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date

from django.db.models import Q
from django.http import QueryDict
from django.utils import timezone

from breeding.typed_answers import WORDS, NoSuchAnswer, Word, word_typed, words_for
from breeding.words.names import name_parts
from nursery.damm import number_is_valid, read_number
from nursery.forms.base import ActForm, Sending
from nursery.models import Act, LivingThing, Person, Tag
from nursery.names import NamePart
from nursery.records import registry
from nursery.records.core import Contradiction
from nursery.records.errors import AlreadySent, Refused
from nursery.records.telling import tell
from nursery.site import pages
from nursery.site.cards.parts import Row as ListedRow
from nursery.site.meant import meant_rows
from nursery.site.typed_day import day_typed
from nursery.typed_tags import what_is_wrong

MOST = 150
AT_LEAST = 12
"""Rows on the page, so many of them empty that one can go on."""
EMPTY = 6


@dataclass(frozen=True)
class What:
    """The thing that a typed number belongs to, and the words that may be typed of it.

    Or why there is none, and which tags may have been meant.
    """

    name_parts: tuple[NamePart, ...] = ()
    kind_words: str = ""
    words: tuple[Word, ...] = ()
    error: str = ""
    meant: tuple[ListedRow, ...] = ()


@dataclass(frozen=True)
class Row:
    """One row as typed, with what came of it. ``seen`` are the codes of contradictions that the person confirmed."""

    id: uuid.UUID
    number: str = ""
    answer: str = ""
    day: str = ""
    seen: frozenset[str] = frozenset()
    what: What | None = None
    error: str = ""
    objections: tuple[Contradiction, ...] = ()
    focus: bool = False

    @property
    def is_empty(self) -> bool:
        return not self.number.strip() and not self.answer.strip()

    @property
    def codes(self) -> str:
        return " ".join(one.code for one in self.objections)


@dataclass
class Typed:
    """What came of a grid: the acts of its good rows, and the rows that stay."""

    acts: list[Act] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)


class RowWrong(Exception):
    """Why a row is not recorded, and the tags that may have been meant."""

    def __init__(self, sentence: str, meant: Iterable[ListedRow] = ()):
        super().__init__(sentence)
        self.meant = tuple(meant)


def rows_of(posted: QueryDict) -> list[Row]:
    """The rows of a posted grid, in their order; values that are no row of it are left out."""
    return [_row(id, posted) for id in dict.fromkeys(posted.getlist("row")[:MOST]) if _is_uuid(id)]


def record(rows: Iterable[Row], *, by: Person, phone_of: Person | None = None) -> Typed:
    """Record every row that is right, each by itself; the others stay with what is wrong."""
    typed = Typed()
    for row in rows:
        if row.is_empty:
            continue
        kept = _try(row, by, phone_of, typed)
        if kept is not None:
            typed.rows.append(kept)
    return typed


def with_empty(rows: list[Row], day: date) -> list[Row]:
    """The rows, and empty ones to go on with; the first empty one has the focus."""
    count = max(AT_LEAST - len(rows), EMPTY)
    empty = [Row(uuid.uuid4(), day=day.isoformat(), focus=turn == 0) for turn in range(count)]
    return [*rows, *empty]


def what_is(number: str) -> What:
    """What a typed number belongs to."""
    try:
        thing = _thing(number)
    except RowWrong as wrong:
        return What(error=str(wrong), meant=wrong.meant)
    return _what(thing)


def _row(id: str, posted: QueryDict) -> Row:
    said = {name: posted.get(f"{name}-{id}", "")[:60] for name in ("number", "answer", "day")}
    return Row(uuid.UUID(id), **said, seen=frozenset(posted.get(f"anyway-{id}", "").split()))


def _is_uuid(text: str) -> bool:
    try:
        return str(uuid.UUID(text)) == text
    except ValueError:
        return False


def _try(row: Row, by: Person, phone_of: Person | None, typed: Typed) -> Row | None:
    """None once it is recorded; else the row with what is wrong, or what has to be looked at again."""
    what = None
    try:
        thing = _thing(row.number)
        what = _what(thing)
        form = _form(thing, row)
        new = [one for one in form.contradictions() if one.code not in row.seen]
        if new:
            return replace(row, what=what, objections=tuple(form.contradictions()))
        typed.acts.append(form.record(form.new_act(Sending(row.id, by, phone_of=phone_of))))
    except RowWrong as wrong:
        return replace(row, what=what or What(meant=wrong.meant), error=_and_the_day(str(wrong), row))
    except NoSuchAnswer as wrong:
        return replace(row, what=what, error=_and_the_day(str(wrong), row))
    except Refused as refused:
        return replace(row, what=what, error=" ".join([refused.sentence, *refused.reasons]))
    except AlreadySent as error:
        # A new UUID: sent once more, the row is an act of its own.
        again = f"This row is recorded already, as {tell(error.act)}. Send it again to record this as well."
        return replace(row, id=uuid.uuid4(), what=what, error=again)
    return None


def _thing(typed: str) -> LivingThing:
    number = read_number(typed)
    if number is None or not number_is_valid(number):
        raise _leads_nowhere(typed) if typed.strip() else RowWrong("Type the number on the tag.")
    tag = Tag.objects.select_related("thing").filter(number=number).first()
    if tag is None:
        raise _leads_nowhere(typed)
    if tag.thing is None:
        raise RowWrong("This tag is blank: it is on nothing yet.")
    return registry.instance_of(tag.thing)


def _leads_nowhere(typed: str) -> RowWrong:
    return RowWrong(what_is_wrong(typed), meant_rows(typed, Q(thing__kind__in=WORDS)))


def _what(thing: LivingThing) -> What:
    words = registry.thing_kind(thing.kind).words
    return What(tuple(name_parts(thing)), words, words_for(thing))


def _form(thing: LivingThing, row: Row) -> ActForm:
    words = words_for(thing)
    if not words:
        kind = registry.thing_kind(thing.kind).words
        raise RowWrong(f"Of a {kind} nothing is asked in a round. Record it on its own page.")
    word = word_typed(row.answer, words)
    page = pages.page_on(thing.kind, word.act)
    posted = QueryDict(mutable=True)
    posted.update({word.name: word.value, "day_said": "on", "day_on": _day(row.day)})
    form = page.form(posted, thing=thing)
    if not form.is_valid():
        raise RowWrong(" ".join(one for errors in form.errors.values() for one in errors))
    return form


def _day(text: str) -> str:
    try:
        return day_typed(text, timezone.localdate()).isoformat()
    except ValueError as error:
        raise RowWrong(str(error)) from error


def _and_the_day(sentence: str, row: Row) -> str:
    """What is wrong with a row, and with its day as well, so that both are put right at once."""
    try:
        _day(row.day)
    except RowWrong as wrong:
        return sentence if str(wrong) in sentence else f"{sentence} {wrong}"
    return sentence
