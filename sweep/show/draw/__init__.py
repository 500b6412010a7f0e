"""Plane drawings."""
