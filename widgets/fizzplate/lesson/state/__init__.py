"""What a page shows, as a value that links and files read and write."""
