"""Makers of questions about charts of runs, and the stored runs that they read."""
