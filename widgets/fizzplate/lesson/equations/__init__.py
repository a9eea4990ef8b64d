"""Half-equations to be written, and how an answer is judged."""
