from collections.abc import Iterator

from django.contrib.auth.models import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models.functions import Lower

from nursery.devices import LONGEST_WORDS


class PersonManager(BaseUserManager):
    def create_user(self, *, name: str, password: str | None = None, role: str = "grower") -> "Person":
        """Make a person; without a password they sign in by a code that an owner shows."""
        person = self.model(name=name.strip(), role=role)
        person.set_password(password)
        person.full_clean()
        person.save(using=self._db)
        return person

    def get_by_natural_key(self, name: str) -> "Person":
        """Names differ by more than case, and a phone's keyboard likes capitals, so case is forgiven."""
        return self.get(name__iexact=name.strip())


class Person(AbstractBaseUser):
    """Somebody who records or reads. Deactivated when they leave, never deleted: their acts keep their name."""

    class Role(models.TextChoices):
        OWNER = "owner", "owner"
        GROWER = "grower", "grower"
        VIEWER = "viewer", "viewer"

    name = models.CharField(max_length=60, unique=True)
    role = models.CharField(max_length=8, choices=Role, default=Role.GROWER)
    is_active = models.BooleanField(default=True)

    signed_out_times = models.PositiveIntegerField(
        default=0, editable=False, help_text="How often they were signed out everywhere; their sessions hang on it."
    )

    objects = PersonManager()
    USERNAME_FIELD = "name"

    class Meta:
        constraints = [
            models.UniqueConstraint(
                Lower("name"),
                name="person_names_differ_by_more_than_case",
                violation_error_message="Somebody already has this name.",
            ),
            models.CheckConstraint(
                name="person_role_is_known",
                condition=models.Q(role__in=["owner", "grower", "viewer"]),
                violation_error_message="Choose owner, grower or viewer.",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    def get_session_auth_hash(self) -> str:
        """What their sessions are held against: another password ends them, and so does signing out everywhere."""
        return self._with_times(super().get_session_auth_hash())

    def get_session_auth_fallback_hash(self) -> Iterator[str]:
        return (self._with_times(known) for known in super().get_session_auth_fallback_hash())

    def _with_times(self, known: str) -> str:
        return f"{known}-{self.signed_out_times}" if self.signed_out_times else known

    @property
    def initials(self) -> str:
        return "".join(word[0] for word in self.name.split()[:3]).upper()

    @property
    def may_record(self) -> bool:
        return self.is_active and self.role in {self.Role.OWNER, self.Role.GROWER}

    @property
    def is_owner(self) -> bool:
        return self.is_active and self.role == self.Role.OWNER


class SignInCode(models.Model):
    """A code that an owner shows so that somebody can sign in once, within ten minutes. Only its hash is kept."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="codes")
    code_hash = models.CharField(max_length=64, unique=True)
    shown_by = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="codes_shown")
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True)

    def __str__(self) -> str:
        return f"code for {self.person}"


class SignedIn(models.Model):
    """A session of a person: on what device, and since when. It counts as long as the session itself lives."""

    person = models.ForeignKey(Person, on_delete=models.CASCADE, related_name="signed_in")
    session_key = models.CharField(max_length=40, unique=True)
    device = models.CharField(max_length=LONGEST_WORDS)
    since = models.DateTimeField()

    def __str__(self) -> str:
        return f"{self.person} on {self.device}"
