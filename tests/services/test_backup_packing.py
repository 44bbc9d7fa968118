"""The backup's file: what is in it, and what is never let out of it."""

import hashlib
import json
import zipfile

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage

from records.queries.files import place_of
from records.services.backup_packing import (
    About,
    pack,
    read_about,
    seal,
    unpack,
)
from records.services.refusal import Refusal
from tests import factories

ROWS = hashlib.shake_128(b"rows").digest(4000)
ABOUT = About("2026-03-02T02:00:00+00:00", "sqlite", 3, "a" * 64, "0.1.0")


def told(_):
    return


@pytest.fixture
def packed(db, tmp_path):
    """Pack a dump, two kept files of which one is lost, and keys in folders."""
    data = tmp_path / "data"
    (data / "keys" / "seals").mkdir(parents=True)
    (data / "keys" / "secret_key").write_text("secret")
    (data / "keys" / "seals" / "current").write_text("name")
    kept = factories.StoredFileFactory()
    factories.StoredFileFactory()
    default_storage.save(place_of(kept.sha256), ContentFile(b"kept"))
    dump = tmp_path / "dump"
    dump.write_bytes(ROWS)
    file = tmp_path / "book.zip"
    pack(file, dump, data, told)
    seal(file, ABOUT)
    return file


def test_what_was_packed_comes_out_the_same(packed, tmp_path):
    folder = tmp_path / "out"
    dump = unpack(packed, folder, told)
    assert dump.read_bytes() == ROWS
    assert (folder / "keys" / "secret_key").read_text() == "secret"
    assert (folder / "keys" / "seals" / "current").read_text() == "name"
    (file,) = (path for path in (folder / "files").rglob("*") if path.is_file())
    assert file.read_bytes() == b"kept"
    assert read_about(packed) == ABOUT


@pytest.mark.parametrize("share", [0.05, 0.3, 0.6, 0.9])
def test_one_changed_byte_of_the_content_is_found(packed, tmp_path, share):
    data = bytearray(packed.read_bytes())
    with zipfile.ZipFile(packed) as names:
        database = names.getinfo("database")
        begins = database.header_offset + 30 + len("database")
    place = begins + int(share * database.compress_size)
    data[place] ^= 1
    packed.write_bytes(data)
    with pytest.raises(Refusal, match="can't be unpacked"):
        unpack(packed, tmp_path / "out", told)


@pytest.mark.parametrize("length", [0, 10, 200])
def test_half_a_file_is_no_backup(packed, length):
    packed.write_bytes(packed.read_bytes()[:length])
    with pytest.raises(Refusal, match="no backup, or it is damaged"):
        read_about(packed)


@pytest.mark.parametrize(
    "name",
    [
        "../outside",
        "/etc/outside",
        "keys/../../outside",
        "keys/..",
        "files/ab/outside",
        "files/ab/../../../outside",
        "keys\\..\\..\\outside",
        "static/app.js",
        "keys/.hidden",
        "database/deeper",
        "",
    ],
)
def test_nothing_is_written_where_a_backup_has_nothing(tmp_path, name):
    file = tmp_path / "book.zip"
    with zipfile.ZipFile(file, "w") as forged:
        forged.writestr(zipfile.ZipInfo(name), b"x")
    folder = tmp_path / "a" / "b"
    with pytest.raises(Refusal, match="no backup of ours has"):
        unpack(file, folder, told)
    written = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert written == [file]


def about_with(tmp_path, text):
    file = tmp_path / "book.zip"
    with zipfile.ZipFile(file, "w") as forged:
        forged.writestr("about.json", text)
    return file


@pytest.mark.parametrize("text", ["", "[]", "{}", "null", '{"made_at": 1}', "\ufeff{"])
def test_a_zip_that_says_nothing_of_itself_is_no_backup(tmp_path, text):
    with pytest.raises(Refusal, match="no backup"):
        read_about(about_with(tmp_path, text))


def test_a_newer_kind_asks_for_a_newer_program(tmp_path):
    facts = {**dict.fromkeys(ABOUT.__slots__, ""), "format": 2}
    with pytest.raises(Refusal, match="newer version"):
        read_about(about_with(tmp_path, json.dumps(facts)))


def test_a_file_that_is_not_there_is_said(tmp_path):
    with pytest.raises(Refusal, match="There is no file"):
        read_about(tmp_path / "none.zip")
