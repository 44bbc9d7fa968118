"""Settings. What a shop changes on a screen is in its Shop row, not here."""

import os
from pathlib import Path

import dj_database_url
from csp.constants import NONE, SELF

from shopqa.secrets import secret_key
from shopqa.storage import file_storage

ROOT = Path(__file__).resolve().parent.parent
DATA = Path(os.environ.get("SHOPQA_DATA", ROOT / ".data"))
HTTPS = os.environ.get("SHOPQA_HTTPS", "") == "1"

DEBUG = os.environ.get("SHOPQA_DEBUG", "") == "1"
SECRET_KEY = secret_key(DATA)
ALLOWED_HOSTS = os.environ.get("SHOPQA_HOSTS", "*").split(",")
CSRF_TRUSTED_ORIGINS = [o for o in os.environ.get("SHOPQA_ORIGINS", "").split(",") if o]

INSTALLED_APPS = [
    "records",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.forms",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django_tables2",
    "django_filters",
    "django_linear_migrations",
    "axes",
    "csp",
]

MIDDLEWARE = [
    "records.web.shared.access_log.AccessLogMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "records.web.shared.bounds.BoundsMiddleware",
    "records.web.shared.plain_text.PlainTextMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "records.web.shared.access.AccessMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "records.web.shared.units.UnitsMiddleware",
    "axes.middleware.AxesMiddleware",
]

ROOT_URLCONF = "shopqa.urls"
WSGI_APPLICATION = "shopqa.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [ROOT / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "records.web.shared.context.shop",
            ],
        },
    },
]

DATABASES = {
    "default": dj_database_url.config(
        default=f"sqlite:///{DATA / 'shop.sqlite3'}",
        conn_max_age=600,
        conn_health_checks=True,
    )
}
if DATABASES["default"]["ENGINE"] == "django.db.backends.sqlite3":
    DATABASES["default"]["CONN_HEALTH_CHECKS"] = False
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": (
            "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;"
            "PRAGMA recursive_triggers=ON; PRAGMA foreign_keys=ON;"
        ),
    }
else:
    DATABASES["default"].setdefault("OPTIONS", {}).setdefault("connect_timeout", 10)
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "records.Person"
AUTHENTICATION_BACKENDS = [
    "axes.backends.AxesStandaloneBackend",
    "django.contrib.auth.backends.ModelBackend",
]
PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 12},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
LOGIN_URL = "people:sign_in"
LOGIN_REDIRECT_URL = "today:today"
AXES_FAILURE_LIMIT = 8
AXES_COOLOFF_TIME = 0.25
AXES_LOCKOUT_PARAMETERS = [["username", "ip_address"]]
AXES_USERNAME_FORM_FIELD = "login"
AXES_RESET_ON_SUCCESS = True
AXES_LOCKOUT_TEMPLATE = "people/locked.html"
AXES_ENABLE_ADMIN = False
AXES_VERBOSE = False

SESSION_COOKIE_AGE = 12 * 3600
SESSION_SAVE_EVERY_REQUEST = False
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_HTTPONLY = True
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
if HTTPS:  # a cookie so named comes from this host and over HTTPS, or is not taken
    SESSION_COOKIE_NAME, CSRF_COOKIE_NAME = "__Host-sessionid", "__Host-csrftoken"
SECURE_SSL_REDIRECT = HTTPS
SECURE_REDIRECT_EXEMPT = [r"^health/$"]  # a probe in the house speaks plain HTTP
SECURE_HSTS_SECONDS = 31536000 if HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = HTTPS
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if HTTPS else None
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [SELF],
        "img-src": [SELF, "data:"],
        "object-src": [NONE],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
        "form-action": [SELF],
    }
}

LANGUAGE_CODE = "en-gb"
USE_I18N = False
USE_TZ = True
TIME_ZONE = os.environ.get("SHOPQA_TIME_ZONE", "UTC")

STATIC_URL = "static/"
STATIC_ROOT = DATA / "static"
STATIC_ROOT.mkdir(parents=True, exist_ok=True)
STORAGES = {
    "default": file_storage(DATA, os.environ),
    "staticfiles": {
        "BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}
WHITENOISE_MANIFEST_STRICT = False
DATA_UPLOAD_MAX_MEMORY_SIZE = 5 * 2**20
FILE_UPLOAD_MAX_MEMORY_SIZE = 2 * 2**20
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2000

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"json": {"()": "records.web.shared.access_log.JsonFormatter"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "json"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    "loggers": {
        "records": {"level": os.environ.get("SHOPQA_LOG_LEVEL", "WARNING")},
        "django.request": {"level": "ERROR"},  # what was not found is no trouble
    },
}

DJANGO_TABLES2_TEMPLATE = "parts/table.html"
FORM_RENDERER = "records.web.shared.fields.ShopRenderer"
SILENCED_SYSTEM_CHECKS: list[str] = []
