"""Controls: the set-up bar, the list of solutions, the board's settings, what runs a cell."""
