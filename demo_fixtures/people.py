"""Who works at Drizzle Lane. Invented first names; one password for all, because it is a demo."""

from nursery.models import Person
from nursery.records.people import person_added

PASSWORD = "wet glass, slow drip"
OWNER = "Marta"
PEOPLE = (("Marta", "owner"), ("Teo", "grower"), ("Ines", "grower"), ("Ole", "viewer"))


def add_people() -> None:
    """Add all, the owner first, who lets the others in. The one password is hashed once, for that takes its time."""
    owner = Person.objects.create_user(name=OWNER, password=PASSWORD, role="owner")
    for name, role in PEOPLE[1:]:
        person_added(by=owner, name=name, role=role)
    Person.objects.update(password=owner.password)
