"""The files that a run leaves."""
