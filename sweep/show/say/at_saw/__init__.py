"""The order of work as screens of a phone at the saw, one step each, and what is on each: data and words."""
