"""Text to records: sizes as prints write them, the job file, the shop file; every fault named."""

from passplot.read.job import parse_job, read_job
from passplot.read.shop_file import read_shop_file, shop_units
from passplot.read.starters import KINDS as STARTER_KINDS
from passplot.read.starters import starter

__all__ = ["STARTER_KINDS", "parse_job", "read_job", "read_shop_file", "shop_units", "starter"]
