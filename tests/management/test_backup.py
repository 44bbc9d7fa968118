"""From a shell: a backup and back, and what is said when it can't be."""

import io

import pytest
from django.core.management import CommandError, call_command

from records.models import LedgerEntry
from tests.forging import forge
from tests.own_book import own_book  # noqa: F401


@pytest.fixture
def book(own_book):  # noqa: F811
    return own_book


def run(name, *options):
    out = io.StringIO()
    call_command(name, *map(str, options), stdout=out, stderr=io.StringIO())
    return out.getvalue()


def test_there_and_back(book, tmp_path):
    file = tmp_path / "book.zip"
    head = LedgerEntry.objects.head()
    said = run("backup", file)
    assert "is good" in said
    assert f"entry {head.sequence}" in said
    assert "private keys" in said

    book.write("Afterwards")
    with pytest.raises(CommandError, match=r"Nothing was changed.*This book is newer"):
        run("restore", file)
    said = run("restore", file, "--over-a-newer-shop")
    assert f"in place, up to entry {head.sequence}" in said
    assert "What was here before is kept" in said
    assert "The book in place is whole" in said


def test_a_break_is_listed_and_no_backup_is_called_good(book, tmp_path):
    forge("UPDATE records_board SET grade = 'x' WHERE number = 'B0001'")
    out = io.StringIO()
    with pytest.raises(CommandError, match="no good backup was made"):
        call_command("backup", str(tmp_path / "b.zip"), stdout=out, stderr=out)
    assert "B0001" in out.getvalue()
    with pytest.raises(CommandError, match="B0001"):
        run("restore", tmp_path / "b.zip.not-good")
    with pytest.raises(CommandError, match="in place, with 1 breaks"):
        run("restore", tmp_path / "b.zip.not-good", "--with-its-breaks")


@pytest.mark.django_db
def test_a_refusal_is_a_sentence(tmp_path):
    (tmp_path / "there.zip").write_text("x")
    with pytest.raises(CommandError, match="No backup was made"):
        run("backup", tmp_path / "there.zip")
    with pytest.raises(CommandError, match=r"Nothing was changed.*no backup"):
        run("restore", tmp_path / "there.zip")


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ([], "required"),
        (["a.zip", "--nightly", "safe"], "not allowed with"),
        (["--nightly", "safe", "--keep", "0"], "keep at least 1"),
        (["--nightly", "safe", "--at", "25:00"], "as 02:00"),
    ],
)
def test_wrong_options_are_explained(options, said):
    with pytest.raises(CommandError, match=said):
        call_command("backup", *options)
