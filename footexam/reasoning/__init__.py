"""What follows from what was found: when to ask what."""
