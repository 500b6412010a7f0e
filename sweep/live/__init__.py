"""What a live page asks, and the answers."""
