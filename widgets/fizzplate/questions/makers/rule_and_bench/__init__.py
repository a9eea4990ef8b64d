"""Makers of questions for 16 to 18: electrode potentials, and where classroom rule and bench differ."""
