"""Job to plan: areas, passes, levels, hand movements. The only package that imports shapely."""
