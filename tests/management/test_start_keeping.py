"""Opening the shop makes its keys once, and can keep nightly backups beside it."""

import io
import subprocess

import pytest
from django.core.management import call_command

from records.documents.keys import current_keys, make_keys
from records.management import nightly, server
from records.management.commands import start as start_command
from tests.factories import NOON


@pytest.fixture
def start(monkeypatch, db, tmp_path):
    """Open the shop with the server and the database's work left out."""
    monkeypatch.setattr(server, "serve", lambda *_: None)
    monkeypatch.setattr(start_command.Command, "_prepare", lambda _: None)
    monkeypatch.setenv("SHOPQA_DATA", str(tmp_path))

    def said(*options):
        out = io.StringIO()
        call_command("start", *options, port=0, stdout=out)
        return out.getvalue()

    return said


def test_keys_are_made_and_where_they_lie_is_said(start, tmp_path):
    said = start()
    assert current_keys(tmp_path) is not None
    assert str(tmp_path / "keys") in said
    assert "must be backed up" in said
    assert "README" in said


def test_a_shop_that_has_a_name_has_it_in_its_certificate(start, shop, tmp_path):
    from cryptography import x509  # noqa: PLC0415
    from cryptography.x509.oid import NameOID  # noqa: PLC0415

    start()
    pem = current_keys(tmp_path).public.certificate
    subject = x509.load_pem_x509_certificate(pem.encode()).subject
    (name,) = subject.get_attributes_for_oid(NameOID.COMMON_NAME)
    assert name.value == shop.name


def test_keys_that_are_there_stay(start, tmp_path):
    keys = make_keys(tmp_path, "Test Airscrew Works", NOON)
    assert "keys" not in start()
    assert current_keys(tmp_path) == keys


def test_nightly_backups_run_beside_the_server_and_end_with_it(start, monkeypatch):
    children = []

    class Popen(subprocess.Popen):
        def __init__(self, command, **options):
            super().__init__(command, **options)
            children.append((command, self))

    def serve(*_):
        assert children[0][1].poll() is None

    monkeypatch.setattr(nightly.subprocess, "Popen", Popen)
    monkeypatch.setattr(server, "serve", serve)
    start("--nightly", "safe", "--keep", "5")
    ((command, child),) = children
    assert child.returncode == 0
    assert command[-4] == "--nightly"
    assert command[-3].endswith("/safe")
    assert command[-2:] == ["--keep", "5"]


def test_one_that_does_not_end_is_ended(start, monkeypatch):
    class Stubborn:
        ended = False

        def communicate(self, timeout):
            raise subprocess.TimeoutExpired("backup", timeout)

        def terminate(self):
            self.ended = True

        def wait(self):
            assert self.ended

    child = Stubborn()
    monkeypatch.setattr(nightly.subprocess, "Popen", lambda *_, **__: child)
    start("--nightly", "safe")
    assert child.ended
