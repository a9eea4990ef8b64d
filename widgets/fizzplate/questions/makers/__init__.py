"""Makers of questions: each draws what it asks about with dice, and computes the rest."""
