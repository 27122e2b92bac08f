"""Reading a table, saying what its columns are, bringing it in and taking it back: what owners do with an import."""

import hashlib
import json
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db import IntegrityError, transaction
from django.utils import timezone

from nursery.models import Act, Person
from nursery.records import registry, rights, voiding
from nursery.records.core import NewAct
from nursery.records.errors import Refused
from nursery.records.telling import tell
from nursery.records.undo import undone
from nursery.site.models import Import, ImportedAct, ImportedClone
from nursery.site.moving import running
from nursery.site.moving.kinds import KINDS
from nursery.site.moving.tables.columns import guessed
from nursery.site.moving.tables.decode import Decoded
from nursery.site.moving.tables.parse import Table, parsed

MOST_REASONS = 20


@dataclass(frozen=True)
class Read:
    """An import, and whether this very table was read before."""

    moving: Import
    before: bool


class NotWhole(Exception):
    """Rows have problems, so nothing was brought in; ``moving`` has the new preview."""


def table_read(*, by: Person, kind: str, name: str, decoded: Decoded) -> Read:
    """Keep a table, its columns guessed; the import of the same table where there is one that was not undone.

    Raises:
        Refused: ``by`` is no owner.
        TableRefused: it is no table that can be read.
    """
    rights.must_be_owner(by)
    table = parsed(decoded.text)
    digest = _digest(table)
    with transaction.atomic():
        known = _known(digest)
        if known is None:
            try:
                with transaction.atomic():
                    return Read(_kept(by, kind, name, decoded, table, digest), before=False)
            except IntegrityError:  # the same table, sent twice at once
                known = _known(digest)
        if known.state == Import.State.DRAFT and known.kind != kind:
            known.kind, known.columns, known.preview = kind, guessed(table.headings, KINDS[kind]), {}
            known.save(update_fields=["kind", "columns", "preview"])
    return Read(known, before=True)


def _kept(by: Person, kind: str, name: str, decoded: Decoded, table: Table, digest: str) -> Import:
    return Import.objects.create(
        by=by,
        made_at=timezone.now(),
        kind=kind,
        name=name[:80],
        encoding=decoded.encoding,
        encoding_guessed=decoded.guessed,
        table=decoded.text,
        digest=digest,
        columns=guessed(table.headings, KINDS[kind]),
    )


def _known(digest: str) -> Import | None:
    return Import.objects.exclude(state=Import.State.UNDONE).filter(digest=digest).first()


def _digest(table: Table) -> str:
    """The same for the same cells, however they were separated and encoded."""
    cells = [table.headings, *(row.cells for row in table.rows)]
    return hashlib.sha256(json.dumps(cells).encode()).hexdigest()


@transaction.atomic
def columns_chosen(
    *,
    by: Person,
    moving: Import,
    columns: Sequence[str],
    day_order: str = "",
    spring: str = "march",
    as_of: date | None = None,
) -> Import:
    """Say what the columns are, and look over what the table would make."""
    rights.must_be_owner(by)
    moving = _held(moving)
    if moving.state != Import.State.DRAFT:
        raise Refused("not_a_draft", "This table was brought in already. Undo that first.")
    moving.columns, moving.day_order, moving.spring = list(columns), day_order, spring
    moving.as_of = as_of
    moving.preview = running.looked_over(moving, by=by).told()
    moving.save(update_fields=["columns", "day_order", "spring", "as_of", "preview"])
    return moving


@transaction.atomic
def rows_again(*, by: Person, moving: Import, again: bool) -> Import:
    """Say whether rows that an earlier table brought in come in once more, and look over what that makes."""
    rights.must_be_owner(by)
    moving = _held(moving)
    if moving.state != Import.State.DRAFT:
        raise Refused("not_a_draft", "This table was brought in already. Undo that first.")
    moving.again = again
    moving.preview = running.looked_over(moving, by=by).told()
    moving.save(update_fields=["again", "preview"])
    return moving


def brought_in(*, by: Person, moving: Import, without: Sequence[int] = ()) -> Import:
    """Bring in every row but those ``without``, all in one transaction; a table brought in before stays as it is.

    Raises:
        Refused: ``by`` is no owner, or the import was undone.
        NotWhole: some row has a problem; nothing is brought in, and the preview tells.
    """
    rights.must_be_owner(by)
    try:
        with transaction.atomic():
            return _brought(by, _held(moving), without)
    except NotWhole:
        moving = Import.objects.get(pk=moving.pk)
        moving.preview = running.looked_over(moving, by=by).told()
        moving.save(update_fields=["preview"])
        raise


def _brought(by: Person, moving: Import, without: Sequence[int]) -> Import:
    if moving.state == Import.State.BROUGHT:
        return moving
    if moving.state == Import.State.UNDONE:
        raise Refused("was_undone", "This import was undone. Paste the table again to bring it in anew.")
    outcome = running.run(moving, by=by, without=without, until_refused=True)
    if outcome.problems or not outcome.rows:
        raise NotWhole
    ImportedAct.objects.bulk_create(ImportedAct(moving=moving, act=act, row=row) for row, act in outcome.making.acts)
    ImportedClone.objects.bulk_create(
        ImportedClone(moving=moving, clone_id=pk, ref=ref[:120]) for ref, pk in outcome.making.refs.items()
    )
    moving.state, moving.brought_at, moving.brought_by = Import.State.BROUGHT, timezone.now(), by
    left_out = [one for one in moving.preview.get("problems", []) if one[0] in set(without)]
    moving.preview = outcome.told() | {"problems": left_out}
    moving.save(update_fields=["state", "brought_at", "brought_by", "preview"])
    return moving


@transaction.atomic
def thrown_away(*, by: Person, moving: Import) -> None:
    """Forget a table that was never brought in."""
    rights.must_be_owner(by)
    moving = _held(moving)
    if moving.state != Import.State.DRAFT:
        raise Refused("not_a_draft", "This table was brought in, so it is kept. Undo it instead.")
    moving.delete()


@transaction.atomic
def import_undone(*, by: Person, moving: Import) -> Import:
    """Undo every act of an import, newest first.

    Raises:
        Refused: something recorded since rests on what it made; ``reasons`` lists that.
    """
    rights.must_be_owner(by)
    moving = _held(moving)
    if moving.state == Import.State.UNDONE:
        return moving
    if moving.state != Import.State.BROUGHT:
        raise Refused("not_brought", "This table was never brought in, so there is nothing to undo.")
    acts = [one.act for one in moving.acts.select_related("act__thing").order_by("-pk")]
    _must_stand_alone(acts)
    for act in acts:
        undone(act=NewAct(id=uuid.uuid5(moving.id, f"undo {act.pk}"), by=by), target=act)
    moving.state, moving.undone_at = Import.State.UNDONE, timezone.now()
    moving.save(update_fields=["state", "undone_at"])
    return moving


def _must_stand_alone(acts: list[Act]) -> None:
    """Refuse with the list of what others recorded of the things that these acts made."""
    own = {act.pk for act in acts}
    found: dict[Any, str] = {}
    for act in acts:
        for born in act.births.exclude(kind="cross"):
            thing = registry.instance_of(born)
            for other in voiding.dependents(thing, besides=act):
                if other.pk not in own:
                    found[other.pk] = f"{thing}: {tell(other)}"
    for other in Act.objects.filter(replaces__in=own, voided_by__isnull=True).select_related("thing"):
        found[other.pk] = f"{registry.instance_of(other.thing)}: corrected, {tell(other)}"
    if found:
        reasons = list(found.values())
        more = [f"and {len(reasons) - MOST_REASONS} more"] if len(reasons) > MOST_REASONS else []
        raise Refused(
            "others_depend",
            "More was recorded about what this table brought in. Undo that first, newest first.",
            reasons=[*reasons[:MOST_REASONS], *more],
        )


def _held(moving: Import) -> Import:
    return Import.objects.select_for_update().get(pk=moving.pk)
