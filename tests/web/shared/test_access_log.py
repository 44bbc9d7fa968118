"""Each request leaves a line, and no line says who or what was in it."""

import io
import json
import logging
import sys

import pytest

from records.web.shared import access_log
from records.web.shared.access_log import HEADER, JsonFormatter
from tests import factories

NAME = "Ada Birchwood"


@pytest.fixture
def lines():
    """Collect what any logger of the program and of Django writes, as JSON."""
    stream = io.StringIO()
    handler = logging.StreamHandler(stream)
    handler.setFormatter(JsonFormatter())
    loggers = [logging.getLogger(n) for n in ("records", "django", "axes")]
    before = [logger.level for logger in loggers]
    for logger in loggers:
        logger.addHandler(handler)
        logger.setLevel(logging.INFO)
    yield lambda: [json.loads(line) for line in stream.getvalue().splitlines()]
    for logger, level in zip(loggers, before, strict=True):
        logger.removeHandler(handler)
        logger.setLevel(level)


def spelled(message, *args, **kwargs):
    record = logging.LogRecord(
        "records.somewhere", logging.WARNING, __file__, 1, message, args, None
    )
    vars(record).update(kwargs)
    return json.loads(JsonFormatter().format(record))


class TestRequests:
    def test_leave_method_route_status_and_duration(self, signed_in, lines):
        answer = signed_in.get("/people/?sort=role")
        (line,) = lines()
        assert line["method"] == "GET"
        assert line["route"] == "people:people"
        assert line["status"] == 200
        assert line["duration_ms"] > 0
        assert line["request_id"] == answer[HEADER]
        assert set(line) == {
            "time",
            "level",
            "logger",
            "event",
            "request_id",
            *access_log.KEPT,
        }

    def test_name_neither_person_nor_thing_nor_what_was_typed(
        self, client, shop, lines
    ):
        ada = factories.owner(login="ada.b", name=NAME)
        for _ in range(9):  # eight close the door
            client.post("/sign-in/", {"login": ada.login, "password": "typed secret"})
        client.force_login(ada, backend="django.contrib.auth.backends.ModelBackend")
        client.get("/people/at/ada.b/")
        client.get("/people/at/nobody.known/?q=asked")
        client.post("/people/add/", {"login": "ben.ash", "name": "Ben Ash"})
        written = json.dumps(lines())
        assert len(lines()) >= 12
        for told in (
            "ada.b",
            NAME,
            "typed secret",
            "nobody.known",
            "asked",
            "en.ash",
            "Ben Ash",
            "127.0.0.1",
        ):
            assert told not in written

    def test_a_broken_page_says_where_and_not_with_what(
        self, signed_in, lines, monkeypatch
    ):
        def broken(*_, **__):
            raise ValueError(f"no such person: {NAME}")

        monkeypatch.setattr("records.web.people.views.listing", broken)
        signed_in.raise_request_exception = False
        answer = signed_in.get("/people/")
        assert answer.status_code == 500
        failed, asked = lines()
        assert (failed["error"], failed["level"]) == ("ValueError", "error")
        assert any("records/web/people/views.py" in place for place in failed["at"])
        assert failed["request_id"] == asked["request_id"] == answer[HEADER]
        assert (asked["status"], asked["level"]) == (500, "error")
        assert NAME not in json.dumps(lines())

    def test_keep_the_number_that_the_proxy_gave(self, client, shop):
        given = "0af7651916cd43dd8448eb211c80319c"
        assert client.get("/health/", headers={HEADER: given})[HEADER] == given

    @pytest.mark.parametrize("given", ["short", "a" * 65, 'x"}{"level":"', "a b c d e"])
    def test_get_a_number_of_their_own_where_the_given_one_is_none(
        self, client, shop, given
    ):
        name = client.get("/health/", headers={HEADER: given})[HEADER]
        assert name != given
        assert len(name) == 32

    def test_of_a_strange_method_are_other(self, client, shop, lines):
        client.generic("BREW", "/health/")
        assert [line["method"] for line in lines() if "method" in line] == ["other"]

    def test_that_lead_nowhere_have_no_route(self, client, shop, lines):
        client.get("/no/such/page/")
        assert [line["route"] for line in lines() if "route" in line] == [""]


class TestLines:
    def test_keep_the_message_without_what_was_filled_in(self):
        line = spelled("%s was let in", NAME)
        assert line["event"] == "%s was let in"
        assert NAME not in json.dumps(line)

    def test_keep_only_named_facts(self):
        line = spelled("request", status=200, login="ada")
        assert line["status"] == 200
        assert "login" not in line

    def test_name_an_error_that_is_logged_as_it_is(self):
        assert spelled(ValueError(NAME))["event"] == "ValueError"

    def test_leave_out_the_words_of_an_error(self):
        try:
            raise ValueError(NAME)
        except ValueError as error:
            line = spelled(str(error), exc_info=sys.exc_info())
        assert line["event"] == line["error"] == "ValueError"
        assert NAME not in json.dumps(line)

    def test_of_another_package_name_its_last_folders(self):
        try:
            json.loads("{")
        except ValueError:
            line = spelled("unread", exc_info=sys.exc_info())
        assert any("json/decoder.py" in place for place in line["at"])
        assert not any(place.startswith("/") for place in line["at"])

    def test_are_one_line_each_whatever_the_message(self):
        record = logging.LogRecord("a", 30, __file__, 1, "one\ntwo", (), None)
        assert "\n" not in JsonFormatter().format(record)
