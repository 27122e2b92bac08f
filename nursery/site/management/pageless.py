"""What commands have in common that show no page."""

from django.core.management.base import BaseCommand


class PagelessCommand(BaseCommand):
    """Starts in half the time: Django's checks, which `manage.py check` and a server make, load all pages first."""

    requires_system_checks = ()
