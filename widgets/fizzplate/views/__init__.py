"""What is seen: the cell widget, its charts, the pages and the theme."""
