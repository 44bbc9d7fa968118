"""What is measured: how long an answer takes, side by side with another way to it."""

import time
from collections.abc import Callable
from dataclasses import dataclass

from records.management.bench.large_shop import LargeShop
from records.models import Blank, JointSpread, Mix, Propeller
from records.queries.reach.holds import held_propellers, holds_for, holds_on
from records.queries.trace.history import where_from, where_to

REPEATS = 5
A_PAGE = 25
SAMPLE = 50


@dataclass(frozen=True, slots=True)
class Measure:
    """One question answered two ways, each the best of some repeats [s]."""

    question: str
    one_way: str
    one_s: float
    other_way: str
    other_s: float

    @property
    def ratio(self) -> float:
        """Give how many times as long the other way takes."""
        return self.other_s / self.one_s


def best(work: Callable[[], object]) -> float:
    """Give the shortest of some repeats [s]."""
    taken = []
    for _ in range(REPEATS):
        start = time.perf_counter()
        work()
        taken.append(time.perf_counter() - start)
    return min(taken)


def measure_where_to(shop: LargeShop) -> Measure:
    """Ask where the glue lot went: by a query, and level by level."""
    lot = shop.glue_lot.pk
    return Measure(
        "Where did the glue lot go?",
        "two queries",
        best(lambda: where_to("lot", lot)),
        "level by level",
        best(lambda: level_by_level(lot)),
    )


def level_by_level(lot: int) -> list[Propeller]:
    """Find the propellers of a glue lot one level after the other."""
    mixes = list(Mix.objects.filter(resin_lot=lot).values_list("pk", flat=True))
    spreads = JointSpread.objects.filter(mix__in=mixes, corrected_by__isnull=True)
    joints = set(spreads.values_list("blank", flat=True))
    blanks = list(Blank.objects.filter(pk__in=joints).select_related("revision"))
    made = Propeller.objects.filter(blank__in=[blank.pk for blank in blanks])
    return list(made.select_related("revision__design"))


def measure_page(shop: LargeShop) -> Measure:
    """Ask which of a page of serials are held: at once, and one by one."""
    page = [propeller.pk for propeller in shop.propellers[:A_PAGE]]
    return Measure(
        f"Which of {A_PAGE} serials on a page are held?",
        "two queries",
        best(lambda: holds_for("propeller", page)),
        "serial by serial",
        best(lambda: [holds_on("propeller", pk) for pk in page]),
    )


def measure_every_child(shop: LargeShop) -> Measure:
    """See the hold on every child: at once, and serial by serial (from a sample)."""
    sample = [propeller.pk for propeller in shop.propellers[-SAMPLE:]]
    scale = len(shop.propellers) / len(sample)
    return Measure(
        f"Is the hold seen on all {len(shop.propellers)} serials?",
        "two queries",
        best(lambda: holds_for("propeller", None)),
        f"serial by serial, from {len(sample)} of them",
        scale * best(lambda: [holds_on("propeller", pk) for pk in sample]),
    )


def measure_filter(shop: LargeShop) -> Measure:
    """Count what is held as a list's filter does, beside asking for the holds."""
    return Measure(
        "How many serials are held?",
        "holds of one serial",
        best(lambda: holds_on("propeller", shop.propellers[-1].pk)),
        "counting all held",
        best(lambda: held_propellers().count()),
    )


def measure_history(small: float, shop: LargeShop) -> Measure:
    """Compare the history of a serial in this shop with that in a small one."""
    return Measure(
        "All that a serial is made of",
        "in a small shop",
        small,
        "in this shop",
        history_s(shop),
    )


def history_s(shop: LargeShop) -> float:
    """Time the trace of one serial, in the middle of the book [s]."""
    key = shop.propellers[len(shop.propellers) // 2].pk
    return best(
        lambda: where_from(Propeller.objects.select_related("blank").get(pk=key))
    )
