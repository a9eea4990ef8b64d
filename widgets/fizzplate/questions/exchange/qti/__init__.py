"""Packages of the open standard QTI 3.0, from this program and from others."""
