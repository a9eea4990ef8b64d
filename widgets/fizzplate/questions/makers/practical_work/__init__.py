"""Makers of questions about practical work: plans, causes of error, and tables and lines of results."""
