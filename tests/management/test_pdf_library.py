"""The library that PDFs need: what to install is said exactly."""

import subprocess

from records.management import pdf_library


def test_nothing_is_missing_where_it_loads():
    assert pdf_library.what_is_missing() == ""


def test_a_library_that_does_not_load_is_named_with_its_packages(monkeypatch):
    def fails(command, **_):
        return subprocess.CompletedProcess(command, 1)

    monkeypatch.setattr(pdf_library.subprocess, "run", fails)
    said = pdf_library.what_is_missing()
    assert "apt-get install libpangoft2-1.0-0" in said
    assert "Everything else works" in said
