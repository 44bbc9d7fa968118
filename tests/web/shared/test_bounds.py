"""A body larger than any form is refused before it is read."""

import pytest
from django.http import HttpResponse
from django.test import RequestFactory

from records.web.shared.bounds import MOST_BODY_BYTES, BoundsMiddleware


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("declared", "status"),
    [
        (str(MOST_BODY_BYTES), 200),
        (str(MOST_BODY_BYTES + 1), 413),
        ("9" * 40, 413),
        ("", 200),
        ("many", 200),
    ],
)
def test_the_declared_length_decides(declared, status):
    request = RequestFactory().post("/lots/", CONTENT_LENGTH=declared)
    middleware = BoundsMiddleware(lambda _: HttpResponse())
    answer = middleware(request)
    assert answer.status_code == status


def test_what_is_refused_is_told_what_to_do(signed_in):
    answer = signed_in.post("/people/add/", CONTENT_LENGTH=str(MOST_BODY_BYTES + 1))
    assert answer.status_code == 413
    assert "At most 20 MB" in answer.content.decode()
