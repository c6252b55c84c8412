"""The path: one function per stop, from an inventory and a date to a plan. It decides nothing."""
