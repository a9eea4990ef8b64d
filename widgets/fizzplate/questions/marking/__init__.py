"""How answers are marked: numbers, words and equations, each mark with its reason."""
