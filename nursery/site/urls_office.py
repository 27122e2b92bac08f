"""Pages of the office that look into more than one app."""

from django.urls import path

from nursery.site.views import backup, export, house, journal, moving, sort_out

urlpatterns = [
    path("office/to-sort-out/", sort_out.sort_out, name="sort-out"),
    path("office/to-sort-out/<int:pk>/looked-at/", sort_out.held_settle, name="held-settle"),
    path("office/journal/", journal.journal, name="journal"),
    path("office/house/", house.house_settings, name="house-settings"),
    path("office/backup/", backup.backup, name="backup"),
    path("office/export/", export.export_page, name="export"),
    path("office/export/everything.zip", export.export_everything, name="export-everything"),
    path("office/export/<slug:name>.csv", export.export_table, name="export-table"),
    path("office/moving-in/", moving.moving_in, name="moving-in"),
    path("office/moving-in/<uuid:pk>/", moving.import_page, name="import"),
    path("office/moving-in/<uuid:pk>/columns/", moving.import_columns, name="import-columns"),
    path("office/moving-in/<uuid:pk>/again/", moving.import_again, name="import-again"),
    path("office/moving-in/<uuid:pk>/bring/", moving.import_bring, name="import-bring"),
    path("office/moving-in/<uuid:pk>/undo/", moving.import_undo, name="import-undo"),
    path("office/moving-in/<uuid:pk>/throw-away/", moving.import_throw_away, name="import-throw-away"),
]
