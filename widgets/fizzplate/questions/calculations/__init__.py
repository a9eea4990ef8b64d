"""Questions with numbers for answers: builders with explicit quantities, and makers that draw them."""
