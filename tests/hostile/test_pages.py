"""No page runs anything that stands in it, whatever stands in the book."""

import re
from urllib.parse import urlsplit

import pytest
from django.conf import settings
from django.db import IntegrityError, models, transaction

from records.models.guards import remove_guards
from tests.hostile import book
from tests.hostile.driver import BACKEND
from tests.hostile.pages import inline
from tests.hostile.world import keep_a_photo, more_paths, world
from tests.web.addresses import addresses

TEMPLATES = sorted(
    path
    for path in (settings.ROOT / "templates").rglob("*.html")
    if "documents" not in path.parts  # printed, and never sent to a browser
)
SCRIPTS = sorted((settings.ROOT / "records" / "static").rglob("*.js"))
PAYLOAD = "<script>alert(1)</script>\"'><img src=x onerror=alert(1)>"
# Columns that are no free text: the program reads them itself.
READ = {
    "body",
    "code",
    "digest",
    "entered",
    "facts",
    "facts_digest",
    "found",
    "media_type",
    "number",
    "password",
    "pin",
    "required",
    "sequence",
    "serial",
    "sha256",
    "unit",
}


def named(path):
    return str(path.relative_to(settings.ROOT))


MANY = 500
MANY_PAGES = 50
DIGEST = 64
# These draw a PDF each time, which takes a second or two.
DRAWN = {"conformity:build_record", "deviations:report", "tags:card_pdf"}


def test_no_template_has_a_script_style_or_handler_in_it():
    assert [named(p) for p in TEMPLATES if inline(plain(p.read_text()))] == []


def test_every_template_escapes_what_it_shows():
    ways = r"\|safe(?!seq)|\|safeseq|autoescape off"
    assert [named(p) for p in TEMPLATES if re.search(ways, p.read_text())] == []


def test_no_script_makes_a_page_out_of_text():
    ways = "innerHTML|outerHTML|insertAdjacentHTML|document.write"
    run = r"\beval\(|new Function\(|setTimeout\(\s*[\"'`]"
    assert SCRIPTS
    assert [
        named(p) for p in SCRIPTS if re.search(f"{ways}|{run}", p.read_text())
    ] == []


def plain(template):
    return re.sub(r"{%.*?%}|{{.*?}}|{#.*?#}", "x", template, flags=re.S)


@pytest.fixture
def made(db):
    """A shop with everything in it, and a payload in every free text of it."""
    with transaction.atomic():
        shop = world()
        shop["files:file.pk"] = keep_a_photo(shop["act"], shop["begun"])
        remove_guards()
        shop["written"] = sum(_write(field) for field in _texts())
        yield shop
        transaction.set_rollback(True)


def _texts():
    """List the columns that hold free text."""
    for model in book.kept_models():
        for field in model._meta.concrete_fields:
            if isinstance(field, models.CharField | models.TextField) and not (
                field.choices
                or field.unique
                or field.name in READ
                or field.max_length == DIGEST
            ):
                yield field


def _write(field):
    """Write the payload into a column, unless the table itself forbids it there."""
    text = PAYLOAD[: field.max_length or len(PAYLOAD)]
    try:
        with transaction.atomic():
            return field.model._default_manager.update(**{field.name: text})
    except IntegrityError:
        return 0


def test_every_page_has_the_policy_and_runs_nothing_from_the_book(made, client):
    client.force_login(made["act"].by, backend=BACKEND)
    paths = [a.path(made) for a in addresses() if a.name not in DRAWN]
    assert made["written"] > MANY, "the payload is in too few rows to show"
    wrong, shown = {}, 0
    for path in [*paths, *more_paths(made)]:
        answer = client.get(path)
        policy = policy_of(answer)
        if answer.headers.get("Content-Type", "").startswith("text/html"):
            html = answer.content.decode()
            shown += "&lt;script&gt;alert(1)" in html
            policy += inline(html)
        if policy:
            wrong[path] = policy
    assert wrong == {}
    assert shown > MANY_PAGES, "too few pages showed the payload"


def test_pages_that_were_refused_have_the_policy_too(client, db):
    for answer in (
        client.get("/no/such/page/"),
        client.get("/?a=%00"),
        client.post("/sign-in/", CONTENT_LENGTH=str(2**40)),
        client.get("/lots/"),
    ):
        assert policy_of(answer) == []


def policy_of(answer):
    """Say what a browser is not told about a page."""
    policy = answer.headers.get("Content-Security-Policy", "")
    rules = dict(rule.strip().partition(" ")[::2] for rule in policy.split(";"))
    expected = {
        "default-src": "'self'",
        "img-src": "'self' data:",
        "object-src": "'none'",
        "base-uri": "'none'",
        "frame-ancestors": "'none'",
        "form-action": "'self'",
    }
    wrong = [
        f"{name} is {rules.get(name)}"
        for name in expected
        if rules.get(name) != expected[name]
    ]
    if set(rules) - set(expected):
        wrong.append(f"the policy has {set(rules) - set(expected)}")
    for header, value in (
        ("X-Content-Type-Options", "nosniff"),
        ("X-Frame-Options", "DENY"),
        ("Referrer-Policy", "same-origin"),
        ("Cross-Origin-Opener-Policy", "same-origin"),
    ):
        if answer.headers.get(header) != value:
            wrong.append(f"{header} is {answer.headers.get(header)}")
    return wrong


def test_a_page_loads_nothing_from_elsewhere(made, client):
    client.force_login(made["act"].by, backend=BACKEND)
    html = client.get("/").content.decode()
    for link in re.findall(r'(?:src|href)="([^"]+)"', html):
        assert not urlsplit(link).netloc
