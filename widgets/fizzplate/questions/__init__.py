"""Questions by a seed, how they are marked, and how they travel in files."""
