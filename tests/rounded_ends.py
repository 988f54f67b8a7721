"""Small jobs for cutters with a rounded end, for tests that plan, prove and replay them."""

from passplot.flow import plan_job
from passplot.read import parse_job
from passplot.records.job import Job
from passplot.records.plan import Plan
from tests.bench_mill import bench_mill, cutter

JOB = """
units = "inch"
shop = "shop.toml"
cutter = "round"
[stock]
size = [{size}]
material = "6061"
[finish]
cusp = {cusp}
skims = 1
[[feature]]
name = "f"
{feature}
"""
BORE = 'kind = "bore"\ncenter = [0.65, 0.65]\ndiameter = 0.9\ndepth = 0.3'
PIN = 'kind = "boss"\ncenter = [0.65, 0.65]\ndiameter = 0.9\ndepth = 0.3'
STEP = 'kind = "step"\nside = "left"\nwidth = 0.7\ndepth = 0.3'
POCKET = 'kind = "pocket"\nx = [0.2, 1.1]\ny = [0.2, 1.1]\ndepth = 0.3'
WEDGE = (
    'kind = "outline"\nclear = "inside"\ndepth = 0.3\n'
    "points = [[0, -0.5], [0.5, -0.5], [0.8, 1.8], [0, 1.8]]"
)


def shop_text(corner: float | None) -> str:
    """The shop file, its one cutter with that corner radius, or a ball where it is None."""
    if corner is None:
        return bench_mill(cutter("round", form="ball"))
    rounded = f"corner_radius = {corner}"
    return bench_mill(cutter("round", form="corner radius", more=rounded))


def job_text(feature: str, cusp: float = 0.008, size: str = "1.3, 1.3, 0.6") -> str:
    """The job file of one feature."""
    return JOB.format(feature=feature, cusp=cusp, size=size)


def read_rounded(feature: str, corner: float | None, cusp: float = 0.008) -> Job:
    """The job, read."""
    return parse_job(job_text(feature, cusp), shop_text(corner))


def planned(feature: str, corner: float | None, cusp: float = 0.008) -> Plan:
    """The job, planned."""
    return plan_job(read_rounded(feature, corner, cusp))
