"""The bench: the widget that holds the cell, its side cards, ruler, charts and lesson."""
