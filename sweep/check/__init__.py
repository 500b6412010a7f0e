"""Opinions from numbers: the profile against the one wanted, and what should give the maker pause."""
