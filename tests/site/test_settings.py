"""What the settings become for a nursery over https, over plain http, and for the demo."""

import json
import subprocess
import sys

import pytest
from django.conf import settings

from tests.site.processes import ROOT, environment, manage

PRINT = """
import json
from django.conf import settings
print(json.dumps({name: getattr(settings, name) for name in NAMES}, default=str))
"""


def _settings(tmp_path, *names, **environ):
    """These settings, as a process of its own reads them."""
    script = PRINT.replace("NAMES", repr(names))
    done = subprocess.run(
        [sys.executable, "-c", script],
        cwd=ROOT,
        env=environment(tmp_path, **environ),
        capture_output=True,
        text=True,
        check=True,
    )
    return json.loads(done.stdout)


def test_over_https_cookies_stay_on_it_and_people_stay_signed_in_for_90_days(tmp_path):
    names = (
        "SESSION_COOKIE_SECURE",
        "CSRF_COOKIE_SECURE",
        "SECURE_SSL_REDIRECT",
        "SECURE_HSTS_SECONDS",
        "SECURE_HSTS_INCLUDE_SUBDOMAINS",
        "SESSION_COOKIE_AGE",
    )
    read = _settings(tmp_path, *names, TEPAL_HTTPS="yes")
    assert read == {
        "SESSION_COOKIE_SECURE": True,
        "CSRF_COOKIE_SECURE": True,
        "SECURE_SSL_REDIRECT": True,
        "SECURE_HSTS_SECONDS": 30 * 24 * 3600,
        "SECURE_HSTS_INCLUDE_SUBDOMAINS": False,
        "SESSION_COOKIE_AGE": 90 * 24 * 3600,
    }


def test_over_plain_http_a_session_lasts_12_hours(tmp_path):
    read = _settings(tmp_path, "SESSION_COOKIE_SECURE", "SECURE_SSL_REDIRECT", "SESSION_COOKIE_AGE")
    assert read == {"SESSION_COOKIE_SECURE": False, "SECURE_SSL_REDIRECT": False, "SESSION_COOKIE_AGE": 12 * 3600}


def test_the_demo_has_a_folder_of_its_own_whatever_database_is_named(tmp_path):
    read = _settings(
        tmp_path, "DATA", "MEDIA_ROOT", "DATABASES", TEPAL_DEMO="yes", DATABASE_URL="postgresql://ida@db.example/real"
    )
    assert read["DATA"] == f"{tmp_path}/demo"
    assert read["MEDIA_ROOT"] == f"{tmp_path}/demo/media"
    assert read["DATABASES"]["default"]["NAME"] == f"{tmp_path}/demo/tepal.sqlite3"


def test_errors_are_not_shown_unless_asked(tmp_path):
    assert _settings(tmp_path, "DEBUG") == {"DEBUG": False}


def test_production_names_of_static_files_carry_a_hash(tmp_path):
    read = _settings(tmp_path, "STORAGES")["STORAGES"]["staticfiles"]["BACKEND"]
    assert read == "whitenoise.storage.CompressedManifestStaticFilesStorage"


def test_the_time_zone_is_the_nurserys(tmp_path):
    assert _settings(tmp_path, "TIME_ZONE", TEPAL_TIME_ZONE="Asia/Kuching") == {"TIME_ZONE": "Asia/Kuching"}


def test_passwords_are_hashed_by_argon2_first(tmp_path):
    read = _settings(tmp_path, "PASSWORD_HASHERS")["PASSWORD_HASHERS"]
    assert read[0] == "django.contrib.auth.hashers.Argon2PasswordHasher"


def test_no_system_check_is_silenced_but_those_on_other_names_of_the_domain():
    """W005 and W021 ask to bind every name under the domain to https, and to preload that into browsers."""
    assert settings.SILENCED_SYSTEM_CHECKS == ["security.W005", "security.W021"]


@pytest.mark.parametrize("https", ["yes", "no"])
def test_the_deployment_check_under_https_says_nothing(tmp_path, https):
    """Under plain http, Django says what plain http lacks, and nothing else."""
    done = manage(
        tmp_path, "check", "--deploy", "--fail-level", "WARNING", TEPAL_HTTPS=https, TEPAL_HOSTS="tepal.example.org"
    )
    warned = sorted({word.strip("(:)") for word in done.stderr.split() if word.startswith("(security.")})
    expected = [] if https == "yes" else ["security.W004", "security.W008", "security.W012", "security.W016"]
    assert (done.returncode, warned) == (0 if https == "yes" else 1, expected), done.stderr
