"""The set-ups for a whole moulding: which cuts, from which face, in which order, take the most and never touch it."""
