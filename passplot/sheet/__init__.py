"""Plan and proof to a sheet: laid out once, in millimetres of paper."""
