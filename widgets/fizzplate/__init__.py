"""Fizz & Plate: widgets for teaching the electrolysis of solutions."""
