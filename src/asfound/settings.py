"""Django's settings; what differs between places comes from the environment.

Reading this module writes nothing: ``asfound.site.setup`` makes the folders.

Environment
-----------
ASFOUND_HOME
    Folder of the database, the files and the secret key; the user's data folder if unset.
DATABASE_URL
    Another database than the SQLite file in the home.
ASFOUND_HOSTS
    Further host names, commas between them.
ASFOUND_HTTPS
    ``1`` where a server in front speaks HTTPS and sets ``X-Forwarded-Proto``.
TZ
    Time zone of the workshop.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import dj_database_url
import platformdirs
from django.utils.functional import SimpleLazyObject

from asfound.own_key import own_key

ASFOUND_HOME = Path(
    os.environ.get("ASFOUND_HOME") or platformdirs.user_data_dir("asfound", appauthor=False)
).absolute()


SECRET_KEY = SimpleLazyObject(lambda: own_key(ASFOUND_HOME / "secret-key"))
DEBUG = False
USE_HTTPS = os.environ.get("ASFOUND_HTTPS") == "1"

_EXTRA_HOSTS = [host.strip() for host in os.environ.get("ASFOUND_HOSTS", "").split(",")]
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]", *filter(None, _EXTRA_HOSTS)]
CSRF_TRUSTED_ORIGINS = [f"https://{host}" for host in filter(None, _EXTRA_HOSTS)]

# FULL: what was acknowledged is on the disk, even when the plug is pulled the moment after.
_WAL = (
    "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON; "
    "PRAGMA temp_store=MEMORY; PRAGMA mmap_size=134217728; PRAGMA journal_size_limit=27103364; "
    "PRAGMA cache_size=-20000"
)


def _database() -> dict[str, Any]:
    url = os.environ.get("DATABASE_URL")
    if url:
        return dict(dj_database_url.parse(url, conn_max_age=60, conn_health_checks=True))
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": ASFOUND_HOME / "db.sqlite3",
        "OPTIONS": {"timeout": 20, "transaction_mode": "IMMEDIATE", "init_command": _WAL},
    }


DATABASES = {"default": _database()}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
CACHES = {
    "default": {
        "BACKEND": "django.core.cache.backends.filebased.FileBasedCache",
        "LOCATION": ASFOUND_HOME / "cache",
        "TIMEOUT": None,
        "OPTIONS": {"MAX_ENTRIES": 1_000},
    },
    # Apart, so that who tries many names pushes no result out and no count is pushed out by one.
    "sign-in": {
        "BACKEND": "django.core.cache.backends.filebased.FileBasedCache",
        "LOCATION": ASFOUND_HOME / "sign-in",
        "TIMEOUT": 3600,
        "OPTIONS": {"MAX_ENTRIES": 20_000},
    },
}

INSTALLED_APPS = [
    "asfound.record",
    "asfound.desk",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django.contrib.humanize",
    "csp",
    "django_htmx",
    "django_tasks",
    "django_tasks_db",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "csp.middleware.CSPMiddleware",
    "asfound.desk.refused.RefusalMiddleware",
]
TASKS = {
    "default": {
        "BACKEND": "django_tasks_db.DatabaseBackend",
        "QUEUES": [],  # any: each cache has a queue of its own
        "OPTIONS": {"id_function": "asfound.record.background.given_id"},
    }
}
ROOT_URLCONF = "asfound.desk.urls"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ]
        },
    }
]

STATIC_URL = "static/"
STATICFILES_FINDERS = ["django.contrib.staticfiles.finders.AppDirectoriesFinder"]
WHITENOISE_USE_FINDERS = True  # so that no step stands between install and serve
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}

LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "cars"
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "MinimumLengthValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]
SESSION_COOKIE_AGE = 12 * 3600  # a tablet stays signed in for a working day
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = USE_HTTPS
CSRF_COOKIE_SAMESITE = "Lax"
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if USE_HTTPS else None
SECURE_HSTS_SECONDS = 30 * 24 * 3600 if USE_HTTPS else 0
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": ["'self'"],
        "img-src": ["'self'", "data:", "blob:"],
        "object-src": ["'none'"],
        "base-uri": ["'self'"],
        "form-action": ["'self'"],
        "frame-ancestors": ["'none'"],
    }
}

MAX_TABLE_UPLOAD_BYTES = 20_000_000
"""As large a table as a car folder may hold."""
MAX_CAR_UPLOAD_BYTES = 512_000_000
"""A zipped car folder with its photographs, streamed to disk."""
FILE_UPLOAD_MAX_MEMORY_SIZE = 2_500_000
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_500_000
DATA_UPLOAD_MAX_NUMBER_FIELDS = 1_000
DATA_UPLOAD_MAX_NUMBER_FILES = 120  # a hundred photographs, and fields that were left empty

LANGUAGE_CODE = "en-gb"
USE_I18N = True
USE_TZ = True
TIME_ZONE = os.environ.get("TZ") or "UTC"

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"stderr": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["stderr"], "level": "WARNING"},
    "loggers": {
        "django": {"handlers": ["stderr"], "level": "ERROR", "propagate": False},
        "django_tasks": {"handlers": ["stderr"], "level": "ERROR", "propagate": False},
        "django_tasks_db": {"handlers": ["stderr"], "level": "ERROR", "propagate": False},
        "django.security": {"handlers": ["stderr"], "level": "WARNING", "propagate": False},
    },
}
