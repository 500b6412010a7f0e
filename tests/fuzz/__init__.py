"""What is thrown at the program on purpose: `python -m tests.fuzz --minutes 30` looks for what it does not bear."""
