"""Text to records: sizes as prints write them, the job file, the shop file; every fault named."""

from passplot.read.job import parse_job, read_job

__all__ = ["parse_job", "read_job"]
