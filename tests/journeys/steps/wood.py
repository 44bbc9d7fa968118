"""From timber to a stack: boards numbered, inspected, sawn and laid."""

from tests.journeys.steps import bench


def add_boards(maker, lot, count):
    """Give the boards of a lot their numbers."""
    maker.go("/boards/add/").fill(
        lot=lot, count=count, length_mm=4900, width_mm=200, thickness_mm=34
    ).press()
    return [f"B{n:04}" for n in range(1, count + 1)]


def inspect(inspector, board, moment):
    """Look at a board, and accept it."""
    inspector.go(f"/boards/at/{board}/inspect/").fill(
        rings="quarter", accepted="yes", happened_at=moment
    ).press()


def saw(maker, board, count):
    """Saw laminations of a board."""
    for n in range(1, count + 1):
        maker.go(f"/boards/at/{board}/saw/").fill(
            place=f"{n} from the butt",
            end_mark="AB"[n % 2],
            mass_g=2600 + n,
            balance_point_mm=-3 * n,
        ).press()
    return [f"{board}-{n}" for n in range(1, count + 1)]


def lay(maker, laminations):
    """Plan a blank and lay its stack; gives the blank's number."""
    maker.go("/builds/blanks/plan/").fill(revision="Bittern 52").press()
    blank = maker.title.split()[-1]
    maker.look("a planned blank").next()
    for place, number in enumerate(laminations, start=1):
        maker.fill(**{f"place_{place}": number})
    maker.look("lay the stack").press().look("a stack")
    return blank


def stage(blank, code):
    """Name the page of a blank's stage."""
    return f"/signoffs/blank/{blank}/{code}/"


def prepare(maker, inspector, blank, moment):
    """Weigh, surface and stack dry; then the order is fixed."""
    bench.work(maker, stage(blank, "saw"), moment=moment, look="log a reading")
    bench.sign(maker)
    bench.do(maker, inspector, stage(blank, "dry-stack"), moment=moment)
    maker.go(f"/builds/blanks/{blank}/").next().press("Begin")
