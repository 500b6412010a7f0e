"""What `sweep shop` leaves: a table twice over, a page, a scene for each profile, and a catalogue to print."""
