"""Pages of the office that look into more than one app."""

from django.urls import path

from nursery.site.views import backup, house, journal, sort_out

urlpatterns = [
    path("office/to-sort-out/", sort_out.sort_out, name="sort-out"),
    path("office/to-sort-out/<int:pk>/looked-at/", sort_out.held_settle, name="held-settle"),
    path("office/journal/", journal.journal, name="journal"),
    path("office/house/", house.house_settings, name="house-settings"),
    path("office/backup/", backup.backup, name="backup"),
]
