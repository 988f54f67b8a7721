"""Text to records: sizes as prints write them, the job file, the shop file; every fault named."""
