"""What a class measured: its table, fits, theory beside it, and causes of error."""
