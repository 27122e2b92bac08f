"""An empty database again after a test whose transactions were real, without the long way of Django's ``flush``.

``flush`` empties every table, and makes the rows of content types and permissions anew. A test fills few tables, and
never those two.
"""

from collections.abc import Iterable
from itertools import groupby

from django.apps import apps
from django.core import serializers
from django.db import connection, transaction
from django.db.models import Model

OURS = ("nursery", "breeding", "labels")
UNTOUCHED = {"django_content_type", "auth_permission"}


def emptied() -> None:
    """Take every row out of every table that has any; constraints are looked at when all are gone."""
    with transaction.atomic(), connection.cursor() as cursor:
        for table in filled():
            cursor.execute(f"DELETE FROM {connection.ops.quote_name(table)}")


def all_rows() -> str:
    """Every row of ours, serialized."""
    models = [model for label in OURS for model in apps.get_app_config(label).get_models()]
    return serializers.serialize("json", [row for model in models for row in model._default_manager.order_by("pk")])


def put_back(shipped: str) -> None:
    """Store these serialized rows, the way they were."""
    rows: Iterable[Model] = (row.object for row in serializers.deserialize("json", shipped))
    with transaction.atomic():
        for model, of_it in groupby(rows, key=type):
            model._base_manager.bulk_create(list(of_it))


def filled() -> list[str]:
    """Every table that has a row, sorted."""
    names = sorted(set(connection.introspection.django_table_names()) - UNTOUCHED)
    asked = (f"SELECT '{name}' WHERE EXISTS (SELECT 1 FROM {connection.ops.quote_name(name)})" for name in names)
    with connection.cursor() as cursor:
        cursor.execute(" UNION ALL ".join(asked))
        return [name for (name,) in cursor.fetchall()]
