"""Solids as plain arrays."""
