"""Makers of questions that ask for more than one answer's worth: in parts, or marked by levels."""
