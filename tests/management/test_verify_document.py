"""A stranger's command: a file and a key, no database, no network."""

import io
import json
import os
import subprocess
import sys

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command

from records import chain
from records.documents.conformity.record import draw_conformity
from records.documents.keys import current_keys, make_keys
from records.documents.pdf_signature import sign_pdf
from records.documents.seal import seal_facts
from tests import finished
from tests.documents import conformity_sample

pytestmark = pytest.mark.django_db
AT = conformity_sample.AT
built, facts = finished.built, conformity_sample.facts


@pytest.fixture(scope="module")
def files(facts, tmp_path_factory):
    """A paper, one changed in a byte, and the public key, in a folder."""
    folder = tmp_path_factory.mktemp("paper")
    keys = make_keys(folder / "shop", "Test Airscrew Works", AT)
    seal = seal_facts(chain.canonical(facts), keys.private_jwk, keys.public.name)
    pdf = sign_pdf(draw_conformity(facts, seal), keys, signer="M", place="P")
    (folder / "good.pdf").write_bytes(pdf)
    changed = bytearray(pdf)
    changed[len(pdf) // 3] ^= 1
    (folder / "changed.pdf").write_bytes(bytes(changed))
    (folder / "key.json").write_text(keys.public.as_json())
    return folder


def run(*arguments):
    out = io.StringIO()
    try:
        call_command("verify_document", *arguments, stdout=out)
    except SystemExit as end:
        return end.code, out.getvalue()
    return 0, out.getvalue()


def test_a_genuine_paper_is_named(files):
    code, said = run(str(files / "good.pdf"), "--key", str(files / "key.json"))
    assert code == 0
    assert "Genuine: CR00001, serial 2026-001." in said


def test_a_changed_byte_exits_with_1_and_says_so(files):
    code, said = run(str(files / "changed.pdf"), "--key", str(files / "key.json"))
    assert code == 1
    assert "Not genuine." in said


def test_json_is_a_contract(files):
    key = str(files / "key.json")
    code, said = run(str(files / "changed.pdf"), "--key", key, "--json")
    assert code == 1
    result = json.loads(said)
    assert set(result) == {
        "against",
        "facts_digest",
        "genuine",
        "key",
        "number",
        "serial",
    }
    assert result["genuine"] is False


@pytest.mark.parametrize(
    ("file", "key", "sentence"),
    [
        ("nowhere.pdf", "key.json", "can't be read"),
        ("good.pdf", "nowhere.json", "can't be read"),
        ("good.pdf", "good.pdf", "not a file of the shop's public keys"),
    ],
)
def test_a_file_that_is_none_gets_a_sentence(files, file, key, sentence):
    with pytest.raises(CommandError, match=sentence):
        run(str(files / file), "--key", str(files / key))


def test_it_needs_no_database_at_all(files):
    done = subprocess.run(  # noqa: S603 - this very program
        [
            sys.executable,
            "manage.py",
            "verify_document",
            str(files / "good.pdf"),
            "--key",
            str(files / "key.json"),
        ],
        cwd=settings.ROOT,
        env={
            **os.environ,
            "DATABASE_URL": "postgres://nobody@127.0.0.1:1/none",
            "SHOPQA_DATA": str(files / "empty"),
        },
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert "Genuine" in done.stdout


def test_new_keys_follow_the_old_ones_which_stay(shop, settings, tmp_path):
    settings.DATA = tmp_path / "data"
    out = io.StringIO()
    call_command("new_keys", stdout=out)
    first = current_keys(settings.DATA)
    call_command("new_keys", stdout=out)
    second = current_keys(settings.DATA)
    assert first.public.name != second.public.name
    assert f"They follow {first.public.name}" in out.getvalue()
    call_command("public_keys", str(tmp_path / "out"), stdout=out)
    written = {path.stem for path in (tmp_path / "out").iterdir()}
    assert written == {first.public.name, second.public.name}
    for path in (tmp_path / "out").iterdir():
        assert "PRIVATE" not in path.read_text()


def test_without_keys_public_keys_says_what_to_do(settings, tmp_path):
    settings.DATA = tmp_path / "empty"
    with pytest.raises(CommandError, match=r"start makes them"):
        call_command("public_keys", str(tmp_path / "out"))
