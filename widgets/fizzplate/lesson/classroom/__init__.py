"""What a class does with a cell: predicts, investigates, compares, and takes care."""
