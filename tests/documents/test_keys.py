"""Keys are made once, kept private, and stay when new ones are made."""

import datetime as dt
import stat

import pytest

from records.documents.keys import (
    FOLDER,
    PublicKeys,
    current_keys,
    every_public_key,
    keep_public_key,
    make_keys,
)

MOMENT = dt.datetime(2026, 3, 2, 12, tzinfo=dt.UTC)


def test_there_are_no_keys_before_they_are_made(tmp_path):
    assert current_keys(tmp_path) is None
    assert every_public_key(tmp_path) == []


def test_made_keys_are_current_and_only_the_service_reads_them(tmp_path):
    keys = make_keys(tmp_path, "Test Airscrew Works", MOMENT)
    assert current_keys(tmp_path) == keys
    for path in (tmp_path / FOLDER).iterdir():
        assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_new_keys_leave_the_old_ones_to_prove_old_papers(tmp_path):
    old = make_keys(tmp_path, "Test Airscrew Works", MOMENT)
    new = make_keys(tmp_path, "Test Airscrew Works", MOMENT)
    assert current_keys(tmp_path) == new
    names = {public.name for public in every_public_key(tmp_path)}
    assert names == {old.public.name, new.public.name}


def test_a_public_key_alone_proves_papers_and_makes_none(tmp_path):
    there, here = tmp_path / "there", tmp_path / "here"
    old = make_keys(there, "Test Airscrew Works", MOMENT).public
    keep_public_key(here, old)
    keep_public_key(here, old)
    assert every_public_key(here) == [old]
    assert current_keys(here) is None
    new = make_keys(here, "Test Airscrew Works", MOMENT).public
    keep_public_key(here, new)
    assert every_public_key(here) == [new, old]


def test_a_lost_key_is_no_key(tmp_path):
    keys = make_keys(tmp_path, "Test Airscrew Works", MOMENT)
    (tmp_path / FOLDER / f"{keys.public.name}.json").unlink()
    assert current_keys(tmp_path) is None


def test_public_keys_hold_nothing_private_and_come_back_from_a_file(tmp_path):
    keys = make_keys(tmp_path, "Test Airscrew Works", MOMENT)
    text = keys.public.as_json()
    assert '"d"' not in text
    assert "PRIVATE" not in text
    assert PublicKeys.from_json(text) == keys.public


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"name": "x"}', "null"])
def test_another_file_is_refused(text):
    with pytest.raises(ValueError, match="not a file of the shop's public keys"):
        PublicKeys.from_json(text)
