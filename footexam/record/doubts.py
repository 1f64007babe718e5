"""Warn limits: values that are kept, but asked about once."""

from footexam.catalogue.model import Measure
from footexam.record.examination import Age
from footexam.record.reading import Numbers, Reading, RegionValues


def doubt(reading: Reading, measure: Measure, age: Age | None) -> str | None:
    """Why a reading should be looked at again; None if it need not be.

    Limits are in the measure's unit; those for adults are not asked of a child or at unknown age.
    """
    low, high = measure.ask_low, measure.ask_high
    if measure.ask_from_age is not None and (age is None or age.years < measure.ask_from_age):
        return None
    match reading.value:
        case Numbers(readings):
            values = readings
        case RegionValues(regions):
            values = tuple(regions.values())
        case _:
            return None
    odd = [
        value
        for value in values
        if (low is not None and value < low) or (high is not None and value > high)
    ]
    if not odd:
        return None
    unit = f" {measure.unit}" if measure.unit else ""
    span = f"{low} to {high}" if low is not None and high is not None else f"up to {high}"
    return (
        f"{', '.join(f'{value:f}' for value in odd)}{unit} lies outside {span}{unit}, "
        "where a slip of the pen is likely; it is kept; measure again or confirm it."
    )
