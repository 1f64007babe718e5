"""What comes in from files and goes out to them."""
