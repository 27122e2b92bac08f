"""Every address of Tepal."""

from django.urls import path

from nursery.site.views.up import up

urlpatterns = [
    path("up/", up, name="up"),
]
