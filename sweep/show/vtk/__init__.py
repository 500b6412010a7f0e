"""Solids in space, drawn off screen or in a window: the only door to the rendering library."""
