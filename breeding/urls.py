"""Breeding's addresses: the round, which is the home page, other days, and walking past a place."""

from django.urls import path

from breeding.views import calendars, sowing, sowing_bench, walk
from breeding.views import round as rounds

urlpatterns = [
    path("", rounds.home, name="round"),
    path("round/<str:day>/", rounds.of_day, name="round-of-day"),
    path("calendar/<str:secret>.ics", calendars.calendar_file_page, name="calendar-file"),
    path("walk/<int:pk>/", walk.walk, name="walk"),
    path("sowings/new/", sowing.plan, name="sowing-plan"),
    path("sowings/<int:pk>/bench/", sowing_bench.bench, name="sowing-bench"),
    path("sowings/<int:pk>/close/", sowing_bench.close, name="sowing-close"),
]
