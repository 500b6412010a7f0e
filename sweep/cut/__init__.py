"""The simulation: the stock after every pass, and what each pass does to the teeth."""
