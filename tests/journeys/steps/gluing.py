"""Glue-up with two mixes, the press with its logger, and the coupons."""

import datetime as dt

from tests.journeys.steps import bench
from tests.journeys.steps.wood import stage

MINUTE, HOUR = dt.timedelta(minutes=1), dt.timedelta(hours=1)


def minute(moment):
    """Write a moment as a bench clock shows it."""
    return f"{moment:%Y-%m-%dT%H:%M}"


def mix(maker, blank, at):
    """Weigh and stir a batch for a stack; gives its number."""
    maker.go(f"/gluing/mix/?blank={blank}").fill(
        sheet="Fenbond resin",
        resin_lot="Fenbond resin",
        resin_g=300,
        hardener_lot="Fenbond powder",
        hardener_g=60,
        mixed_at=minute(at),
        temperature_c="22.5",
        humidity_pct=47,
        stirred_min=4,
    )
    maker.look("mix glue").press("It is mixed")
    return maker.says.split(",")[0].split()[-1]


def close(maker, blank, joint, number, at):
    """Close a joint, four minutes after its first glue."""
    maker.go(f"/gluing/glue-up/{blank}/joint/").fill(
        joint=joint,
        mix=number,
        side="both",
        spread_at=minute(at),
        closed_at=minute(at + 4 * MINUTE),
        spread_g=60,
    )
    maker.look("close a joint").press("It is closed")


def glue_up(maker, blank, begun):
    """Close two joints, each with a mix of its own: the first was soaked up."""
    first = mix(maker, blank, begun)
    close(maker, blank, 1, first, begun + MINUTE)
    second = mix(maker, blank, begun + 8 * MINUTE)
    close(maker, blank, 2, second, begun + 9 * MINUTE)
    maker.look("a glue-up")
    return [first, second]


def press(maker, inspector, blank, on_at):
    """Press for eighteen hours, and read the logger's file in; gives the load."""
    maker.go(f"/gluing/glue-up/{blank}/").next()
    maker.fill(press="Long press", on_at=minute(on_at)).look("close the press")
    maker.press()
    load = maker.title.split()[-1]
    maker.go(f"/pressing/{load}/import/").fill(
        file=logged(on_at), unit="MPa", gauge="G06"
    )
    maker.look("read a logger's file").press()
    maker.look("a press load")
    maker.go(f"/pressing/{load}/open/").fill(off_at=minute(on_at + 18 * HOUR))
    maker.press().look("a press load opened")
    at = minute(on_at + 18 * HOUR)
    bench.do(maker, inspector, stage(blank, "press"), moment=at)
    return load


def logged(on_at):
    """Write the file of a logger that takes a line every five minutes."""
    lines = ["time;pressure [MPa];temperature [°C]"]
    for step in range(1, 18 * 12):
        moment = on_at + 5 * step * MINUTE
        lines.append(f"{moment:%Y-%m-%d %H:%M:%S};{10.5 + step % 4 / 100:.2f};22.4")
    text = "\n".join(lines).encode()
    return {"name": "press.csv", "mimeType": "text/csv", "buffer": text}


def break_coupon(maker, number, made_at):
    """Make a coupon of a mix, and break it two days later; gives its number."""
    maker.go(f"/coupons/make/?mix={number}").fill(
        mix=number, wood="White ash", made_at=minute(made_at), twin_place="shelf 3"
    ).press()
    coupon = maker.title.split()[-1]
    maker.go(f"/coupons/{coupon}/test/").fill(
        wood_failure_pct=92,
        method="block shear on the bench tester",
        load_n=25500,
        area_mm2=1935,
        happened_at=minute(made_at + 48 * HOUR),
    )
    maker.look("break a coupon").press().look("a coupon")
    return coupon
