"""What is said, once: facts in the words of the maker."""
