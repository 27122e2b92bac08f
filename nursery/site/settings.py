"""Django's settings. What a nursery may change comes from the environment, through the rows of nursery.site.env."""

from datetime import timedelta
from pathlib import Path

from nursery.site import env, headers
from nursery.site.databases import databases
from nursery.site.secret import secret_key

BASE_DIR = Path(__file__).resolve().parent.parent.parent
VALUES = env.read()

# Where things are kept. The demo has a folder and a database of its own, so it never mixes with real records.
DEMO = VALUES["TEPAL_DEMO"]
DATA = VALUES["TEPAL_DATA"] / "demo" if DEMO else VALUES["TEPAL_DATA"]
SECRET_KEY = secret_key(DATA)
DATABASES = databases(DATA, None if DEMO else VALUES["DATABASE_URL"])
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
MEDIA_ROOT = DATA / "media"
SMALL_PHOTOS = DATA / "small_photos"
LEARNED = DATA / "learned"
STATIC_ROOT = DATA / "static"

# Who is served
DEBUG = VALUES["TEPAL_DEBUG"]
ALLOWED_HOSTS = VALUES["TEPAL_HOSTS"]
PORT = VALUES["TEPAL_PORT"]
PROXY = VALUES["TEPAL_PROXY"]
ROOT_URLCONF = "nursery.site.urls"
WSGI_APPLICATION = "nursery.site.wsgi.application"

INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "csp",
    "axes",
    "nursery",
    "breeding",
    "labels",
    "nursery.site.apps.SiteConfig",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "nursery.site.headers.permissions_policy",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "nursery.site.busy.Busy",
    "axes.middleware.AxesMiddleware",  # last, as its documentation asks: it turns a lock-out into its page
]

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "nursery.context.frame",
            ],
        },
    },
]
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"

# Files that never change while the server runs. Production names carry a hash, so that phones may keep them.
STATIC_URL = "/static/"
STATICFILES_DIRS = [BASE_DIR / "static"]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}

# Language and time
LANGUAGE_CODE = "en-gb"
USE_I18N = False
USE_TZ = True
TIME_ZONE = VALUES["TEPAL_TIME_ZONE"]

# People and passwords
AUTH_USER_MODEL = "nursery.Person"
LOGIN_URL = "/sign-in/"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
    "nursery.auth.CodeBackend",
]
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.Argon2PasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator",
        "OPTIONS": {"user_attributes": ("name",)},
    },
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]

# Guessing passwords: eight wrong ones for one name from one address, then a quarter of an hour's pause for that pair.
# A name alone is never locked, or a stranger could lock the owner out.
AXES_FAILURE_LIMIT = 8
AXES_COOLOFF_TIME = timedelta(minutes=15)
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_USERNAME_CALLABLE = "nursery.site.guessing.name_tried"
AXES_LOCKOUT_CALLABLE = "nursery.site.guessing.locked"
AXES_RESET_ON_SUCCESS = True
AXES_SENSITIVE_PARAMETERS = ["code", "held-password"]
AXES_DISABLE_ACCESS_LOG = True
AXES_VERBOSE = False

# What browsers are told
HTTPS = VALUES["TEPAL_HTTPS"]
# A print of 2,000 labels sends a number for each (Django's own limit is 1,000 fields).
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5_000
CONTENT_SECURITY_POLICY = {"DIRECTIVES": headers.CONTENT_POLICY}
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
# Over plain http anyone on the network can read the session's cookie, so it does not live long.
SESSION_COOKIE_AGE = int((timedelta(days=90) if HTTPS else timedelta(hours=12)).total_seconds())
SECURE_SSL_REDIRECT = HTTPS
SECURE_REDIRECT_EXEMPT = [r"^up/$"]
# Thirty days: a nursery that gives https up is not shut out for a year.
SECURE_HSTS_SECONDS = int(timedelta(days=30).total_seconds()) if HTTPS else 0
# Whoever hosts a nursery may have other names under the same domain; whether those keep to https is not ours to say.
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = False
SILENCED_SYSTEM_CHECKS = ["security.W005", "security.W021"]

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stderr"], "level": "INFO"},
    "loggers": {
        "django": {"handlers": ["stderr"], "level": "INFO", "propagate": False},
        "axes": {"level": "WARNING"},
    },
}
