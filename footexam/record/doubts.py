"""Warn limits: values that are kept, but asked about once."""

from collections.abc import Iterable
from decimal import Decimal

from footexam.catalogue.model import Measure, between
from footexam.messages import listed
from footexam.record.examination import Age
from footexam.record.reading import Numbers, Reading, RegionValues
from footexam.record.refusal import after_number, in_digits


def doubt(reading: Reading, measure: Measure, age: Age | None) -> str | None:
    """Why a reading should be looked at again; None if it need not be.

    Limits are in the measure's unit; those for adults are not asked of a child or at unknown age.
    """
    return doubt_of(_numbers(reading), measure, age)


def doubt_of(values: Iterable[Decimal], measure: Measure, age: Age | None) -> str | None:
    """Like doubt, for numbers in the measure's unit, as of a derived measure."""
    if measure.ask_from_age is not None and (age is None or age.years < measure.ask_from_age):
        return None
    low, high = measure.ask_low, measure.ask_high
    odd = [value for value in values if not between(value, low, high)]
    if not odd:
        return None
    unit = after_number(measure.unit)
    lies = "lies" if len(odd) == 1 else "lie"
    shown = listed(dict.fromkeys(map(in_digits, odd)), "and")
    return (
        f"{shown}{unit} {lies} {_beyond(low, high, unit)}, the usual span of this measure; "
        "the value is kept; look for a slip in number, sign and unit, or measure again."
    )


def _numbers(reading: Reading) -> Iterable[Decimal]:
    match reading.value:
        case Numbers(readings):
            return readings
        case RegionValues(regions):
            return regions.values()
        case _:
            return ()


def _beyond(low: Decimal | None, high: Decimal | None, unit: str) -> str:
    if low is None:
        return f"above {in_digits(high)}{unit}"
    if high is None:
        return f"below {in_digits(low)}{unit}"
    return f"outside {in_digits(low)} to {in_digits(high)}{unit}"
