"""One act as a phone sent it, read into what the forms need, or a sentence that says what is wrong with it."""

import json
import re
import uuid
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any

from django.http import QueryDict
from django.utils import timezone

from nursery.damm import number_is_valid
from nursery.models import LivingThing, Person, Tag, Thing
from nursery.records import registry
from nursery.templatetags.tepal import plate

LONGEST_ID = 2**63 - 1


class Unreadable(Exception):
    """What was sent cannot be an act; ``sentence`` tells a person why."""

    def __init__(self, sentence: str):
        super().__init__(sentence)
        self.sentence = sentence


@dataclass(frozen=True)
class Tap:
    """One act as it was tapped. ``hands`` None means whoever is signed in."""

    id: uuid.UUID
    act: str
    thing: LivingThing | None
    values: QueryDict
    day: date
    time: time | None
    hands: Person | None


def id_as_sent(sent: Any) -> str | None:
    """The id in the very letters in which it came, so that the phone finds it again."""
    id = sent.get("id") if isinstance(sent, dict) else None
    return id if isinstance(id, str) else None


def act_id_of(sent: Any) -> uuid.UUID | None:
    """The UUID of what was sent, if it has one."""
    text = id_as_sent(sent)
    try:
        return uuid.UUID(text) if text else None
    except ValueError:
        return None


def hands_of(sent: Any) -> Person | None:
    """The person named as whose hands, if there is such a person, active or not."""
    pk = sent.get("hands") if isinstance(sent, dict) else None
    return Person.objects.filter(pk=pk).first() if _is_id(pk) else None


def thing_row_of(sent: Any) -> Thing | None:
    """The thing that was named, if there is such a thing."""
    if not isinstance(sent, dict):
        return None
    if _is_id(sent.get("thing")):
        return Thing.objects.filter(pk=sent["thing"]).first()
    tag = Tag.objects.select_related("thing").filter(number=sent["tag"]).first() if _is_id(sent.get("tag")) else None
    return tag.thing if tag else None


def read(sent: Any) -> Tap:
    """Raises Unreadable."""
    if not isinstance(sent, dict):
        raise Unreadable("This is no act: it has no parts with names.")
    _must_be_writable(sent)
    id = act_id_of(sent)
    if id is None:
        raise Unreadable("It has no UUID, so nobody can tell whether it was sent before.")
    act = sent.get("act")
    if not isinstance(act, str) or not re.fullmatch(r"[a-z-]{1,40}", act):
        raise Unreadable("It does not say what was done or seen.")
    day, at = _tapped_at(sent.get("tapped_at"))
    return Tap(id, act, _thing(sent), _values(sent.get("values", {})), day, at, _hands(sent))


def _must_be_writable(sent: dict[str, Any]) -> None:
    """Halves of a character can stand in JSON, but in no database."""
    try:
        json.dumps(sent, ensure_ascii=False).encode()
    except UnicodeEncodeError as error:
        raise Unreadable("A character in it is broken.") from error


def _thing(sent: dict[str, Any]) -> LivingThing | None:
    named = {"thing", "tag"} & {name for name, value in sent.items() if value is not None}
    if not named:
        return None
    row = thing_row_of(sent)
    if row is not None:
        return registry.instance_of(row)
    if "thing" in named:
        raise Unreadable(f"There is no thing {_short(sent['thing'])} here.")
    raise Unreadable(_what_is_wrong_with(sent["tag"]))


def _what_is_wrong_with(tag: Any) -> str:
    if not _is_id(tag):
        return f"{_short(tag)} is no tag number."
    if not number_is_valid(tag):
        return f"Tag {plate(tag)} does not fit its last digit, so one digit is wrong or missing."
    if Tag.objects.filter(number=tag).exists():
        return f"Tag {plate(tag)} is blank: it is on nothing yet."
    return f"No tag {plate(tag)} was ever made here."


def _tapped_at(text: Any) -> tuple[date, time | None]:
    try:
        said = datetime.fromisoformat(text)
        local = timezone.localtime(said) if said.tzinfo else said
    except (TypeError, ValueError, OverflowError) as error:
        raise Unreadable("It does not say on which day it was tapped.") from error
    at = local.time().replace(microsecond=0)
    return local.date(), at if ":" in text else None


def _values(values: Any) -> QueryDict:
    """The values as a browser would send them with the form."""
    if not isinstance(values, dict):
        raise Unreadable("Its values have no names.")
    posted = QueryDict(mutable=True)
    for name, value in values.items():
        posted.setlist(name, [_text(one) for one in (value if isinstance(value, list) else [value])])
    return posted


def _text(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None or isinstance(value, str | int | float):
        return "" if value is None else str(value)
    raise Unreadable("One of its values is no words and no number.")


def _hands(sent: dict[str, Any]) -> Person | None:
    if sent.get("hands") is None:
        return None
    person = hands_of(sent)
    if person is None:
        raise Unreadable("Nobody here is the person whose hands it names.")
    return person


def _is_id(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= LONGEST_ID


def _short(value: Any) -> str:
    return str(value)[:40]
