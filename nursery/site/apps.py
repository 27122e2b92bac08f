"""The one app that may import every other: settings, addresses, commands."""

from django.apps import AppConfig


class SiteConfig(AppConfig):
    name = "nursery.site"
    label = "site_"
    verbose_name = "Tepal"
