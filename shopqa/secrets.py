"""The shop's secret key: made once, kept in the data folder, never in the code."""

import os
import secrets
from pathlib import Path


def secret_key(data: Path) -> str:
    """Read the secret key from the environment or the data folder, or make one."""
    given = os.environ.get("SHOPQA_SECRET_KEY")
    if given:
        return given
    path = data / "keys" / "secret_key"
    if not path.exists():
        data.mkdir(parents=True, exist_ok=True, mode=0o700)
        path.parent.mkdir(exist_ok=True, mode=0o700)
        _write_once(path, secrets.token_urlsafe(64))
    return path.read_text()


def _write_once(path: Path, text: str) -> None:
    try:
        descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:  # another process was first: its key is the key
        return
    with os.fdopen(descriptor, "w") as file:
        file.write(text)
