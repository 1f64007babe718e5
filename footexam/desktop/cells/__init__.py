"""The boxes that values are typed into, one sort for each kind of measure."""
