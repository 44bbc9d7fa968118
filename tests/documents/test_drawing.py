"""The drawing program takes its page from the job alone, and fetches nothing."""

import base64
import json
import os
import subprocess
import sys

import pytest
from django.conf import settings

from tests.documents import reading

PAGE = '<html lang="en"><title>Hello</title><p>Hello</p></html>'


def run(html, files=()):
    """Run the program as the server does."""
    job = {
        "html": html,
        "drawn_at": "2026-03-02T12:00:00+00:00",
        "attachments": list(files),
    }
    return subprocess.run(
        [sys.executable, "-m", "records.documents.drawing"],
        input=json.dumps(job).encode(),
        capture_output=True,
        cwd=settings.ROOT,
        env={**os.environ, "SOURCE_DATE_EPOCH": "1772452800"},
        check=False,
    )


def test_a_page_is_drawn_with_its_files():
    content = base64.b64encode(b"data").decode()
    done = run(PAGE, [{"name": "x.txt", "description": "X", "content": content}])
    assert done.returncode == 0
    assert "Hello" in reading.text(done.stdout)
    assert reading.reader(done.stdout).attachments["x.txt"] == [b"data"]


@pytest.mark.parametrize("source", ["file:///etc/passwd", "http://127.0.0.1:1/x.png"])
def test_nothing_is_fetched_from_disk_or_network(source):
    done = run(f'{PAGE}<img src="{source}">')
    assert done.returncode != 0
    assert b"disallowed protocol" in done.stderr
