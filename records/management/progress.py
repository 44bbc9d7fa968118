"""Say what a long command is doing, at most once a second for the same thing."""

import time
from collections.abc import Callable

SILENCE_S = 1.0


class Teller:
    """Passes lines on; of lines that begin with the same word, one a second."""

    def __init__(self, write: Callable[[str], object]) -> None:
        self._write = write
        self._verb = ""
        self._told = 0.0

    def __call__(self, line: str) -> None:
        """Tell a line, unless one of its kind was told just now."""
        now = time.monotonic()
        verb = line.partition(" ")[0]
        if verb != self._verb or now - self._told >= SILENCE_S:
            self._write(line)
            self._verb, self._told = verb, now
