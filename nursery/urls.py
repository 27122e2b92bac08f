"""Signing in and out, the office of the nursery's own models, help."""

from django.urls import path, register_converter

from nursery.photo_files import NAME
from nursery.views import hands, help, photos, sign_in
from nursery.views.office import about, index, password, people, places, sessions, taxa


class Sha256Converter:
    """The name of a photo: 64 digits of a hash, so that an address can lead to no other file."""

    regex = NAME.pattern

    def to_python(self, value: str) -> str:
        return value

    def to_url(self, value: str) -> str:
        return value


register_converter(Sha256Converter, "sha256")

urlpatterns = [
    path("sign-in/", sign_in.sign_in, name="sign-in"),
    path("sign-out/", sign_in.sign_out, name="sign-out"),
    path("hands/", hands.choose, name="hands"),
    path("help/", help.help_page, name="help"),
    path("photos/<sha256:sha256>.jpg", photos.photo, name="photo"),
    path("photos/small/<sha256:sha256>.jpg", photos.photo_small, name="photo-small"),
    path("office/", index.office, name="office"),
    path("office/people/", people.people, name="people"),
    path("office/people/new/", people.person_new, name="person-new"),
    path("office/people/<int:pk>/", people.person, name="person"),
    path("office/people/<int:pk>/code/", people.person_code, name="person-code"),
    path("office/people/<int:pk>/leave/", people.person_leave, name="person-leave"),
    path("office/people/<int:pk>/sign-out/", sessions.person_end, name="person-end"),
    path("office/signed-in/", sessions.mine, name="my-sessions"),
    path("office/signed-in/end/", sessions.mine_end, name="my-sessions-end"),
    path("office/password/", password.mine, name="my-password"),
    path("office/places/", places.places, name="office-places"),
    path("office/places/<int:pk>/earlier/", places.place_earlier, name="place-earlier"),
    path("office/places/<int:pk>/later/", places.place_later, name="place-later"),
    path("office/taxa/", taxa.taxa, name="taxa"),
    path("office/taxa/new/", taxa.taxon_new, name="taxon-new"),
    path("office/taxa/<int:pk>/", taxa.taxon, name="taxon"),
    path("office/about/", about.about, name="about"),
]
