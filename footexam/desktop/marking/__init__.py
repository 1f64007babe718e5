"""Marking in the window: the list of students, the sheet, feedback; marks are files."""
