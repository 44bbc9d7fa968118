"""Two hosts, each with its own server and folder: one book, one store of files.

The book is in PostgreSQL and the files in an S3-compatible store, as in a shop that
has outgrown one machine. What is written through either server is seen by both.
"""

import io
import json
import uuid
from concurrent.futures import ThreadPoolExecutor

import pytest
from PIL import Image

from tests.faults.client import Client
from tests.faults.shop import Shop
from tests.hostile.databases import empty_database
from tests.hostile.object_store import object_store

CLIENTS = 8
WRITES = 6
SECRET = "one key for both hosts, in the environment of each of them"
BOUNDARY = "a-boundary-that-no-photo-has"


class Host(Shop):
    """A server whose book and files are elsewhere."""

    def __init__(self, folder, url, store):
        super().__init__(folder, url)
        self.store = store

    @property
    def environment(self):
        shared = {**self.store, "SHOPQA_SECRET_KEY": SECRET}
        return {**super().environment, **shared}

    def health(self):
        return json.loads(Client(self.port).get("/health/")[1])


@pytest.fixture(scope="module")
def hosts(tmp_path_factory):
    """Open one shop on two hosts."""
    with (
        pytest.MonkeyPatch.context() as environment,
        empty_database() as url,
        object_store(environment) as store,
    ):
        first, second = (
            Host(tmp_path_factory.mktemp(name), url, store) for name in ("a", "b")
        )
        try:
            first.set_up().start()
            second.manage("collectstatic", "--noinput")
            yield first, second.start()
        finally:
            first.kill()
            second.kill()


def test_what_eight_people_write_through_both_is_all_there(hosts):
    first, second = hosts

    def work(person):
        client = Client(first.port).sign_in(f"maker{person}")
        done = []
        for turn in range(WRITES):
            client.port = (first, second)[turn % 2].port
            name = f"supplier {person}.{turn}"
            assert client.add_supplier(name) == 302
            done.append(name)
        return done

    with ThreadPoolExecutor(CLIENTS) as everybody:
        written = [n for names in everybody.map(work, range(CLIENTS)) for n in names]
    assert len(written) == CLIENTS * WRITES
    assert set(written) <= set(first.suppliers())
    assert first.chain_breaks() == []
    assert first.breaks() == second.breaks() == []


def test_a_form_sent_to_both_at_once_counts_once(hosts):
    first, second = hosts
    one, two = first.client("maker0"), second.client("maker0")
    key = str(uuid.uuid4())
    with ThreadPoolExecutor(2) as both:
        sent = [both.submit(c.add_supplier, "sent twice", key) for c in (one, two)]
        assert [answer.result() for answer in sent] == [302, 302]
    assert first.suppliers().count("sent twice") == 1


def test_a_photo_sent_to_one_is_shown_by_the_other(hosts):
    first, second = hosts
    client = first.client()
    board = first.rows("SELECT number FROM records_board ORDER BY id")[0][0]
    page = f"/files/attach/board/{board}/"
    kind = f"multipart/form-data; boundary={BOUNDARY}"
    status, _ = client.send("POST", page, photo_form(client.token), kind)
    assert status == 302
    ((key,),) = first.rows("SELECT max(id) FROM records_attachment")
    client.port = second.port
    status, shown = client.get(f"/files/{key}/")
    assert status == 200
    assert "JFIF" in shown[:40]
    assert not any((host.folder / "files").exists() for host in hosts)


def test_both_are_in_the_same_health(hosts):
    first, second = hosts
    assert first.health()["status"] == "ok"
    assert first.health() == second.health()


def test_one_goes_on_when_the_other_is_killed(hosts):
    first, second = hosts
    client = first.client("maker1")
    first.kill()
    assert client.add_supplier("to a dead host") == 0
    client.port = second.port
    assert client.add_supplier("to the living one") == 302
    assert "to the living one" in second.suppliers()
    assert second.breaks() == []
    first.start()


def photo_form(token):
    """Spell the form that attaches a photo, as a browser sends it."""
    picture = io.BytesIO()
    Image.new("RGB", (40, 30), "tan").save(picture, "JPEG")
    plain = {
        "csrfmiddlewaretoken": token,
        "caption": "The end of a board",
        "happened_at": "2026-03-02T12:00",
    }
    head = '--{}\r\nContent-Disposition: form-data; name="{}"{}\r\n\r\n'
    body = b"".join(
        f"{head.format(BOUNDARY, name, '')}{value}\r\n".encode()
        for name, value in plain.items()
    )
    body += head.format(BOUNDARY, "photo", '; filename="a.jpg"').encode()
    return body + picture.getvalue() + f"\r\n--{BOUNDARY}--\r\n".encode()
