"""Job to plan: areas, passes, levels, hand movements. The only package that imports shapely."""

from passplot.plan.turning import make_plan

__all__ = ["make_plan"]
