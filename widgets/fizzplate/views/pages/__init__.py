"""The five pages."""
