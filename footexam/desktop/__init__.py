"""The window: what a clinician sees and types; the only room that knows Qt."""
