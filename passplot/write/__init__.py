"""Sheet to files. Writers print and decide nothing."""
