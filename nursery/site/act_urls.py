"""Addresses of acts, nested by thing, the act last."""

from django.urls import path

from nursery.site.views import act, grid, outbox, repairs, several, swapped, undo

urlpatterns = [
    path("places/<int:pk>/several/", several.at_place, name="several-at-place"),
    path("acts/<uuid:pk>/several/", several.of_sowing, name="several-of-sowing"),
    path("several/<uuid:pk>/undo/", several.undo, name="several-undo"),
    path("several/<slug:slug>/<slug:act>/", several.answer, name="several-answer"),
    path("round/<str:day>/grid/", grid.grid, name="grid"),
    path("round/<str:day>/grid/what/", grid.what, name="grid-what"),
    path("acts/", outbox.acts, name="acts"),
    path("acts/<uuid:pk>/undo/", undo.undo, name="undo"),
    path("acts/<uuid:pk>/correct/", act.correct, name="correct"),
    path("acts/<uuid:pk>/settle/<slug:code>/", undo.settle_all, name="settle-all"),
    path("flags/<int:pk>/settle/", undo.settle, name="settle"),
    path("flags/<int:pk>/repair/<slug:slug>/", repairs.repair, name="repair"),
    path("<slug:slug>/<int:pk>/swapped/", swapped.swapped, name="swapped"),
    path("<slug:slug>/new/", act.new, name="new"),
    path("<slug:slug>/<int:pk>/<slug:act>/", act.on_thing, name="act"),
]
