"""Whether the program works is said to anybody, and nothing else is."""

import pytest

from records.queries.health import Health
from records.web.health import views


def test_a_working_program_says_so_to_anybody(client, shop):
    answer = client.get("/health/")
    assert answer.status_code == 200
    assert answer.json() == {
        "status": "ok",
        "database": True,
        "migrations": True,
        "guards": True,
        "ledger_head": 0,
    }
    assert "no-store" in answer["Cache-Control"]


@pytest.mark.parametrize(
    "result",
    [
        Health(database=False),
        Health(database=True),
        Health(database=True, migrations=True, guards=False, ledger_head=7),
    ],
)
def test_what_cannot_be_written_is_failing(client, monkeypatch, result):
    monkeypatch.setattr(views.queries, "health", lambda: result)
    answer = client.get("/health/")
    assert answer.status_code == 503
    assert answer.json()["status"] == "failing"
    assert answer.json()["guards"] is result.guards


def test_it_opens_no_session_and_sets_no_cookie(client, shop):
    assert client.get("/health/").cookies == {}


def test_a_probe_inside_the_house_is_not_sent_to_https(client, shop, settings):
    settings.SECURE_SSL_REDIRECT = True
    assert client.get("/health/").status_code == 200
    assert client.get("/sign-in/").status_code == 301


def test_it_is_read_only(client, shop):
    assert client.post("/health/").status_code == 405
