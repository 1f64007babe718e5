"""What was written down: entries, journals, and the examination they fold to."""
