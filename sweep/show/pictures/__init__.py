"""Pictures and the movie."""
