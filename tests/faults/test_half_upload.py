"""An upload that breaks off in the middle leaves nothing, and hinders nobody."""

import datetime as dt
import io
import socket

import pytest
from PIL import Image

pytestmark = pytest.mark.faults
BOUNDARY = "----a-boundary"
ATTACH = "/files/attach/lot/L0001/"
SAVED = 302
YESTERDAY = dt.datetime.now(dt.UTC).date() - dt.timedelta(days=1)


def photo():
    """Draw a photo that does not compress: about half a megabyte."""
    output = io.BytesIO()
    Image.effect_noise((900, 700), 90).convert("RGB").save(output, "JPEG", quality=95)
    return output.getvalue()


def form(token, data):
    """Spell the form that attaches a photo."""
    fields = {
        "csrfmiddlewaretoken": token,
        "caption": "Half a board",
        "happened_at": f"{YESTERDAY.isoformat()}T12:00",
    }
    parts = [
        f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="{name}"\r\n\r\n{value}'
        for name, value in fields.items()
    ]
    parts.append(
        f'--{BOUNDARY}\r\nContent-Disposition: form-data; name="photo"; '
        'filename="half.jpg"\r\nContent-Type: image/jpeg\r\n\r\n'
    )
    return "\r\n".join(parts).encode() + data + f"\r\n--{BOUNDARY}--\r\n".encode()


def kept(shop):
    files = [path for path in (shop.folder / "files").rglob("*") if path.is_file()]
    (rows,) = shop.rows("SELECT count(*) FROM records_storedfile")
    return len(files), rows[0]


@pytest.mark.parametrize("share", [0.01, 0.5, 0.999])
def test_nothing_of_it_is_kept_and_the_whole_one_is(shop, share):
    client = shop.client()
    before, entries = kept(shop), shop.rows("SELECT count(*) FROM records_ledgerentry")
    body = form(client.token, photo())
    kind = f"multipart/form-data; boundary={BOUNDARY}"
    cookies = "; ".join(f"{name}={value}" for name, value in client.cookies.items())
    for _ in range(4):  # more than there are workers
        with socket.create_connection(("127.0.0.1", shop.port)) as link:
            link.sendall(
                f"POST {ATTACH} HTTP/1.1\r\nHost: localhost\r\nCookie: {cookies}\r\n"
                f"Content-Type: {kind}\r\nContent-Length: {len(body)}\r\n\r\n".encode()
            )
            link.sendall(body[: int(share * len(body))])
    assert client.get("/lots/at/L0001/")[0] == 200
    assert kept(shop) == before
    assert shop.rows("SELECT count(*) FROM records_ledgerentry") == entries

    status, _ = client.send("POST", ATTACH, body, kind)
    assert status == SAVED
    assert kept(shop) == (before[0] + 1, before[1] + 1)
    assert shop.breaks() == []


def test_half_a_file_that_a_killed_server_left_is_written_anew(shop):
    """The file is laid down before its entry is written: here, only half of it was."""
    client = shop.client()
    kind = f"multipart/form-data; boundary={BOUNDARY}"
    body = form(client.token, photo())
    assert client.send("POST", ATTACH, body, kind)[0] == SAVED
    ((sha256,),) = shop.rows(
        "SELECT sha256 FROM records_storedfile ORDER BY id DESC LIMIT 1"
    )
    path = shop.folder / "files" / sha256[:2] / sha256
    whole = path.read_bytes()
    path.write_bytes(whole[: len(whole) // 2])
    assert len(shop.breaks()) == 1

    assert client.send("POST", ATTACH, body, kind)[0] == SAVED
    assert path.read_bytes() == whole
    assert shop.breaks() == []
