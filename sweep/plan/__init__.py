"""The inverse: from the profile wanted, or a piece to match, to the set-up, the passes and the care they need."""
