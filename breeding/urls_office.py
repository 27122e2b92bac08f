"""Breeding's pages of the office."""

from django.urls import path

from breeding.views import calendars, left_out, round_settings, routines, steps, timings

urlpatterns = [
    path("office/round/", round_settings.round_settings, name="round-settings"),
    path("office/calendar/", calendars.calendars, name="calendars"),
    path("office/calendar/end/", calendars.calendar_end, name="calendar-end"),
    path("office/routines/", routines.routines, name="routines"),
    path("office/timings/", timings.timings, name="timings"),
    path("office/timings/new/", timings.timing_new, name="timing-new"),
    path("office/timings/risk/", timings.risks, name="risks"),
    path("office/timings/left-out/", left_out.left_out, name="left-out"),
    path("office/timings/left-out/<uuid:pk>/", left_out.leave_out, name="leave-out"),
    path("office/timings/step/<slug:code>/", steps.step, name="timing-step"),
    path("office/timings/<int:pk>/", timings.timing, name="timing"),
    path("office/timings/<int:pk>/reset/", timings.timing_reset, name="timing-reset"),
]
