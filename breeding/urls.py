"""Breeding's addresses: the round, which is the home page, other days, and walking past a place."""

from django.urls import path

from breeding.views import round as rounds
from breeding.views import walk

urlpatterns = [
    path("", rounds.home, name="round"),
    path("round/<str:day>/", rounds.of_day, name="round-of-day"),
    path("walk/<int:pk>/", walk.walk, name="walk"),
]
