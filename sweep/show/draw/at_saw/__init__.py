"""The pictures of a phone at the saw, one for a step: large words, few lines, read at arm's length."""
