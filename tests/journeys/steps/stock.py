"""What the shop has before its first build: gauges, glue, wood, press, drawing."""

from records.management.demo.drawings import PUSHER
from records.management.demo.workshop import GAUGES

STATIONS = 3
LAMINATIONS = 3


def add_gauges(owner, day):
    """Put the gauges in the register, each with its last calibration."""
    for number, name, unit, low, high, resolution, error in _one_a_unit():
        owner.go("/gauges/add/").fill(
            number=number,
            name=name,
            unit=_unit(unit),
            range_low=low,
            range_high=high,
            resolution=resolution,
        ).press()
        owner.go(f"/gauges/at/{number}/calibrate/").fill(
            done_on=day,
            unit=_unit(unit),
            as_found_error=0,
            as_left_error=0,
            permissible_error=error,
            expanded_uncertainty=float(error) / 4,
            certificate=f"Certificate {number}",
            standard="Reference of the calibration house",
        ).press()
    owner.look("a gauge").go("/gauges/").look("gauges")


def _one_a_unit():
    """Take one gauge for each unit, the one with the widest range."""
    widest = {}
    for gauge in GAUGES:
        known = widest.get(gauge[2])
        if known is None or float(gauge[4]) > float(known[4]):
            widest[gauge[2]] = gauge
    return list(widest.values())


def _unit(symbol):
    return {"%": "% (", "deg": "° (", "g.mm": "g·mm ("}.get(symbol, f"{symbol} (")


def add_materials(owner):
    """Put suppliers, woods and glues in the book."""
    owner.go("/lots/suppliers/add/").fill(name="Reedbank Timber").press()
    for kind, name, family, hardwood in (
        ("timber", "White ash", "Ash, white", "hardwood"),
        ("adhesive", "Fenbond resin", "resorcinol", ""),
        ("hardener", "Fenbond powder", "", ""),
    ):
        owner.go("/lots/materials/add/").fill(kind=kind, name=name, family=family)
        if hardwood:
            owner.fill(hardwood=hardwood)
        owner.press()
    owner.go("/lots/sheets/write/").look("write a glue sheet")
    owner.fill(
        adhesive="Fenbond resin",
        hardener="Fenbond powder",
        source="Fenbond data sheet 3 (invented)",
        parts_low=19,
        parts_high=21,
        spread_low_gm2=230,
        spread_high_gm2=400,
        pressure_low_pa="0.9",
        pressure_high_pa="1.35",
        shelf_life_days=365,
        working_life="15 240\n20 150\n25 90\n30 45",
        open_most="15 18\n20 12\n25 7\n30 3",
        closed_least="15 4\n30 4",
        closed_most="15 80\n20 60\n25 45\n30 25",
        press_time="15 1500\n20 960\n25 660\n30 420",
    ).press()
    owner.look("a glue sheet")


def receive(hand, material, supplier_lot, day, expires_on=""):
    """Take in a delivery; gives its number."""
    hand.go("/lots/receive/").fill(
        material=material, supplier_lot=supplier_lot, received_on=day
    )
    if expires_on:
        hand.fill(expires_on=expires_on)
    hand.press()
    return hand.title.split()[-1]


def accept(hand, lot, moment):
    """Look at a delivery and accept it."""
    hand.go(f"/lots/at/{lot}/check/").fill(
        found="As ordered; sound and labelled.", accepted="yes", happened_at=moment
    ).press()


def add_press(owner):
    owner.go("/pressing/presses/add/").fill(
        name="Long press", kind="rams", rams=6, bore_mm=63
    ).press()


def add_route(owner):
    """Take the default route as the shop's own."""
    owner.go("/routes/default/").look("the default route")
    owner.fill(name="Laminated propeller").press()
    owner.look("the route")


def draw(owner):
    """Issue the drawing of a small pusher with three laminations."""
    owner.go("/designs/add/").fill(model=PUSHER.model, description=PUSHER.description)
    owner.press().look("issue a revision")
    figures = PUSHER.figures | {"laminations": LAMINATIONS, "lamination_mm": 29}
    words = {k: str(v) for k, v in figures.items() if k != "torque_dry"}
    owner.fill(species=["White ash"], **words)
    for row, station in enumerate(PUSHER.stations()[:STATIONS]):
        owner.fill(**{f"stations-{row}-{k}": v for k, v in station.items()})
    owner.press("Issue it").look("a revision")
