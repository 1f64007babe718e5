"""Comparing examinations with a reference: agreement, marks, pass marks."""
