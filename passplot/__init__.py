"""passplot: proven pass sheets for hand-cranked milling machines."""

__version__ = "0.1.0"
