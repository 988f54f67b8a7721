"""The shop file of a small bench mill and its cutters, for tests that write jobs of their own."""


def bench_mill(*cutters: str, more: str = "") -> str:
    """A shop file in inches; ``more`` are further lines on the machine."""
    machine = """
units = "inch"
[machine]
name = "bench mill"
spindle_speeds = [500, 1000, 2000]
resolution = 0.0005
"""
    return f"{machine}{more}\n{''.join(cutters)}"


def cutter(
    name: str, diameter: float = 0.5, flutes: float = 1.25, form: str = "square end", more: str = ""
) -> str:
    """A carbide cutter that cuts at its centre; ``flutes`` is their length."""
    return f"""[[cutter]]
id = "{name}"
form = "{form}"
material = "carbide"
diameter = {diameter}
flutes = 4
flute_length = {flutes}
center_cutting = true
{more}
"""
