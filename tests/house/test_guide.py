"""What the guides point to is there."""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
GUIDES = ("README.md", "DEVELOPERS.md")
TEST = re.compile(r"(?:tests/)?((?:\w+/)*test_\w+\.py)(?:::([\w:…]+))?")
FOLDER_OR_FILE = re.compile(
    r"`((?:records|templates|shopqa|shared|tests)/[\w/]*(?:\.\w+)?)`"
)


def test_every_test_named_is_there():
    tests = named(TEST)
    assert len(tests) > 50
    assert [f"{path}::{name}" for path, name in tests if not stands(path, name)] == []


def test_every_place_named_is_there():
    assert [path for path in named(FOLDER_OR_FILE) if not (ROOT / path).exists()] == []


def named(pattern):
    texts = [(ROOT / guide).read_text(encoding="utf-8") for guide in GUIDES]
    return sorted({groups for text in texts for groups in pattern.findall(text)})


def stands(path, name):
    file = ROOT / "tests" / path
    text = file.read_text(encoding="utf-8") if file.is_file() else None
    return text is not None and all(part in text for part in re.split(r"::|…", name))
