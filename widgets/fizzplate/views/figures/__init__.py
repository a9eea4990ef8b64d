"""Charts as SVG drawings whose text stays text."""
