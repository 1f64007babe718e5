"""Derived measures: what is worked out from other readings, one module for each family."""
