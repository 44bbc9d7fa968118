"""NUL characters and foreign charsets never reach a page."""

import pytest
from django.http import HttpResponse
from django.test import RequestFactory

from records.web.shared.plain_text import PlainTextMiddleware

FORM = "application/x-www-form-urlencoded"
PARTS = "multipart/form-data; boundary=b"


def status_of(request):
    return PlainTextMiddleware(lambda _: HttpResponse())(request).status_code


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("path", "cookie"),
    [
        ("/lots/at/L%00/", ""),
        ("/lots/?sort=a%00b", ""),
        ("/lots/", 'sessionid="abcdefgh\\000"'),
    ],
)
def test_a_nul_is_refused_wherever_it_stands(path, cookie):
    assert status_of(RequestFactory().get(path, HTTP_COOKIE=cookie)) == 400


@pytest.mark.django_db
@pytest.mark.parametrize("charset", ["utf-7", "hex", "utf-16", "none", "latin-1"])
@pytest.mark.parametrize("kind", [FORM, PARTS])
def test_a_form_in_another_charset_is_refused(kind, charset):
    sent = f"{kind}; charset={charset}"
    assert status_of(RequestFactory().generic("POST", "/", b"a", sent)) == 400


@pytest.mark.parametrize("charset", ["", "; charset=utf-8", '; charset="UTF-8"'])
def test_a_form_of_the_shops_passes(charset):
    request = RequestFactory().generic("POST", "/?a=%C3%A4", b"a=1", f"{FORM}{charset}")
    assert status_of(request) == 200


@pytest.mark.django_db
def test_what_is_refused_is_told_what_to_do(client):
    answer = client.get("/lots/?sort=%00")
    assert answer.status_code == 400
    assert "Nothing was saved" in answer.content.decode()
