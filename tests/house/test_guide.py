"""What the guides point to is there."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
GUIDES = ("README.md", "DEVELOPERS.md")
TEST = re.compile(r"(?:tests/)?((?:\w+/)*test_\w+\.py)(?:::([\w:…]+))?")
FOLDER_OR_FILE = re.compile(
    r"`((?:records|templates|shopqa|shared|tests)/[\w/]*(?:\.\w+)?)`"
)


def found(pattern):
    texts = [(ROOT / guide).read_text(encoding="utf-8") for guide in GUIDES]
    return sorted({groups for text in texts for groups in pattern.findall(text)})


@pytest.mark.parametrize(("path", "name"), found(TEST))
def test_every_test_named_is_there(path, name):
    file = ROOT / "tests" / path
    assert file.is_file()
    text = file.read_text(encoding="utf-8")
    for part in re.split(r"::|…", name):
        assert part in text


@pytest.mark.parametrize("path", found(FOLDER_OR_FILE))
def test_every_place_named_is_there(path):
    assert (ROOT / path).exists()
