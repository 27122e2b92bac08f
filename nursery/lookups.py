"""Numbers that no id can have. Django lets them match nothing on plain columns, but not where the id is a key."""

from typing import Any

from django.core.exceptions import EmptyResultSet
from django.db.models import ForeignKey
from django.db.models.fields.related_lookups import RelatedExact

LARGEST_ID = 2**63 - 1


@ForeignKey.register_lookup
class ExactOrNothing(RelatedExact):
    """``pk=`` of a thing: a number that is too large for any database is no thing's, and no error either."""

    def process_rhs(self, compiler: Any, connection: Any) -> Any:
        if isinstance(self.rhs, int) and not -LARGEST_ID <= self.rhs <= LARGEST_ID:
            raise EmptyResultSet
        return super().process_rhs(compiler, connection)
