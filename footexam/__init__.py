"""footexam: records, judges and prints an examination of the feet and lower limbs."""

__version__ = "0.1.0"
