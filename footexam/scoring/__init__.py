"""Totals, derived measures, and what a reading is worth (Rule F)."""
