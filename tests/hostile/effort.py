"""How much is tried: a rotating part by default, and more of everything on request.

HOSTILE_EXAMPLES=10 tries ten times as much; what is tried of a list moves on from
address to address, so that all of it is tried somewhere in every run.
"""

import os

from hypothesis import HealthCheck, settings

EFFORT = int(os.environ.get("HOSTILE_EXAMPLES", "1"))


def some(everything, turn, count):
    """Give a part of a list: another one at each turn."""
    everything = list(everything)
    taken = min(len(everything), count * EFFORT)
    start = turn * taken % len(everything)
    return (everything[start:] + everything[:start])[:taken]


def tried(count):
    """Set how many examples are tried; the same ones always, unless more are asked."""
    return settings(
        max_examples=count * EFFORT,
        derandomize=EFFORT == 1,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
