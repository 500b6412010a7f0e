"""The window on the desk."""
