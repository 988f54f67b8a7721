"""Small jobs with arcs for a rotary table, shared by the tests that plan, prove and print them."""

from passplot.flow import plan_job
from passplot.read import parse_job
from passplot.records.job import Job
from passplot.records.plan import Plan
from tests.bench_mill import bench_mill, cutter

JOB = """
units = "{units}"
shop = "shop.toml"
cutter = "half"
direction = "{direction}"
[stock]
size = {size}
material = "6061"
[finish]
wall = {wall}
floor = 0
skims = {skims}
[[feature]]
name = "round"
depth = {depth}
rotary = true
{feature}
"""
BORE = 'kind = "bore"\ncenter = [1, 1]\ndiameter = 1.4'
HUB = 'kind = "boss"\ncenter = [1, 1]\ndiameter = 1.2'
END = (
    'kind = "outline"\nclear = "outside"\npoints = [[0, 0.4], [1.2, 0.4], '
    '{ x = 1.2, y = 1.6, center = [1.2, 1], turn = "ccw" }, [0, 1.6]]'
)
SCOOP = (
    'kind = "outline"\nclear = "inside"\npoints = [[0.3, 2], '
    '{ x = 1.7, y = 2, center = [1, 2], turn = "ccw" }]'
)
TRAY = 'kind = "pocket"\nx = [0.3, 1.7]\ny = [0.3, 1.7]\ncorner_radius = 0.5'
SLOT = 'kind = "slot"\nalong = "x"\ncenter = 1\nwidth = 0.8\nend = 1.5'
ALL = {"bore": BORE, "hub": HUB, "end": END, "scoop": SCOOP, "tray": TRAY, "slot": SLOT}


def job_text(feature: str, *, climb: bool = False, skims: int = 2, units: str = "inch") -> str:
    """The job file of a feature in a block two inches square."""
    inch = units == "inch"
    return JOB.format(
        units=units,
        direction="climb" if climb else "conventional",
        size="[2, 2, 0.5]" if inch else "[50, 50, 12]",
        wall=0.02 if inch else 0.5,
        depth=0.1 if inch else 2.5,
        skims=skims,
        feature=feature,
    )


def shop_text(*, reverse: bool = False) -> str:
    """The shop file; ``reverse`` turns the spindle counter-clockwise with a left-hand cutter."""
    spindle, hand = ("counter-clockwise", "left") if reverse else ("clockwise", "right")
    return bench_mill(
        cutter("half", more=f'hand = "{hand}"'),
        more=f'resolution_mm = 0.01\nspindle = "{spindle}"',
    )


def read_round(feature: str, *, reverse: bool = False, **more: object) -> Job:
    """The job, read."""
    text = job_text(feature, **more)  # type: ignore[arg-type]
    return parse_job(text, shop_text(reverse=reverse))


def planned(feature: str, **more: object) -> Plan:
    """The job, planned."""
    return plan_job(read_round(feature, **more))  # type: ignore[arg-type]
