"""The value of a reading in words, with its unit, and what was noted beside it."""

import re
from collections.abc import Mapping
from decimal import Decimal

from footexam.catalogue.model import Column, Measure
from footexam.record.reading import (
    Activities,
    NoneKnown,
    Numbers,
    Reading,
    RegionValues,
    Rows,
    Sites,
    Text,
    Value,
    Word,
    Words,
)
from footexam.reports.material import Material
from footexam.reports.words import (
    date_words,
    decimals_of,
    is_signed,
    number_words,
    plain,
    quantity_words,
    rounded,
    time_words,
    with_unit,
)
from footexam.scoring.visit import mean
from footexam.terms import Absence, Side

_UNIT_WORD = re.compile(r"[^\W\d_]+\S*|%|°")


def value_lines(reading: Reading, material: Material) -> list[str]:
    """What was recorded, one text for each line of its own; an absence in words with its reason."""
    if reading.absent is not None:
        return [absence_words(reading.absent, reading.reason, material)]
    measure = material.catalogue.measures.get(reading.measure)
    if measure is None or reading.value is None:
        return [reading.typed]
    if isinstance(reading.value, Numbers):
        return [numbers_words(reading.value, measure, converted=typed_otherwise(reading, material))]
    return _lines(reading.value, measure, material)


def score_words(measure: str, side: Side | None, material: Material) -> str:
    """A value worked out for a side, or for none; empty where there is none."""
    scores = {(score.measure, score.side): score for score in material.assessment.scores}
    score = scores.get((measure, side)) or scores.get((measure, None))
    if score is None:
        return ""
    if isinstance(score.value, str):
        return material.word(score.value)
    known = material.measure(measure)
    return quantity_words(score.value, known, decimals=known.decimals)


def absence_words(absence: Absence, reason: str, material: Material) -> str:
    """Why there is no value."""
    what = material.phrases(absence)
    return material.phrases("reason", what=what, reason=reason) if reason else what


def _lines(value: Value, measure: Measure, material: Material) -> list[str]:
    """A value in words by its kind."""
    match value:
        case Numbers():
            told = [numbers_words(value, measure)]
        case Word():
            told = [material.word(value.word)]
        case Words():
            told = ["; ".join(_word_or_region(word, material) for word in value.words)]
        case Text():
            told = [value.text]
        case Sites():
            told = [_sites(value, material)]
        case RegionValues():
            told = [
                f"{material.region(region)} {quantity_words(number, measure)}"
                for region, number in value.values.items()
            ]
        case Rows():
            told = [_row(row, measure.columns, material) for row in value.rows]
        case NoneKnown():
            told = [material.phrases("none-known")]
        case Activities():
            told = [
                material.phrases("of-ten", activity=activity, score=score)
                for activity, score in value.items
            ]
    return told


def numbers_words(value: Numbers, measure: Measure, *, converted: bool = False) -> str:
    """A reading, or the mean of several with one digit more than the finest of them.

    A reading `converted` from another unit has the digits of the measure, unless that loses some.
    """
    number = mean(value.readings, measure.best)
    if len(value.readings) == 1:
        exact = converted and number == rounded(number, measure.decimals)
        return quantity_words(number, measure, decimals=measure.decimals if exact else None)
    places = max(decimals_of(reading, measure.decimals) for reading in value.readings)
    return quantity_words(number, measure, decimals=places + 1)


def _word_or_region(word: str, material: Material) -> str:
    """A region's name, else a choice word as shown."""
    return material.region(word) if word in material.catalogue.regions else material.word(word)


def _sites(value: Sites, material: Material) -> str:
    """Yes or no, with its places."""
    answer = material.word(value.word)
    if value.word != "yes":
        return answer
    places = "; ".join(map(material.region, value.sites)) or material.phrases("site-none")
    return f"{answer}: {places}"


def _row(row: Mapping[str, str | Decimal], columns: tuple[Column, ...], material: Material) -> str:
    """One row of a table measure: each filled column with its name."""
    labels = {column.id: material.say(column.label) for column in columns}
    cells = row_cells(row, columns, material)
    return "; ".join(f"{labels.get(name, name)}: {told}" for name, told in cells.items())


def row_cells(
    row: Mapping[str, str | Decimal], columns: tuple[Column, ...], material: Material
) -> dict[str, str]:
    """The filled cells of one row of a table measure in words, by column, as forms/ orders them."""
    known = {column.id: column for column in columns}
    names = [*(name for name in known if name in row), *(name for name in row if name not in known)]
    return {name: _row_cell(row[name], known.get(name), material) for name in names}


def _row_cell(content: str | Decimal, column: Column | None, material: Material) -> str:
    """One cell of a table measure in words."""
    if isinstance(content, Decimal):
        return number_words(content)
    kind = column.kind if column else "text"
    if kind in {"date", "week"}:
        return date_words(content, material.phrases)
    if kind == "region":
        return material.region(content)
    return material.word(content) if kind in {"choice", "yes-no", "side"} else content


def repeats_words(reading: Reading, material: Material) -> str:
    """The repeats behind a mean or a best; empty for a single reading."""
    value, measure = reading.value, material.catalogue.measures.get(reading.measure)
    if not isinstance(value, Numbers) or measure is None or len(value.readings) == 1:
        return ""
    signed = is_signed(measure)
    digits = [number_words(plain(number, measure.decimals), signed) for number in value.readings]
    readings = with_unit(", ".join(digits), measure.unit)
    return material.phrases("best-of" if measure.best else "mean-of", readings=readings)


def remarks(reading: Reading, material: Material) -> list[str]:
    """What stands beside a value: repeats, another unit as typed, method, note, late entry."""
    phrases = material.phrases
    lines = [repeats_words(reading, material)]
    if typed_otherwise(reading, material):
        lines.append(phrases("typed", typed=reading.typed))
    if reading.method:
        lines.append(phrases("method", method=material.word(reading.method)))
    if reading.note:
        lines.append(phrases("note", note=reading.note))
    if reading.performed_at:
        lines.append(phrases("late", when=time_words(reading.performed_at, phrases)))
    return [line for line in lines if line]


def typed_otherwise(reading: Reading, material: Material) -> bool:
    """Whether a number was typed with another unit than the one it is printed in."""
    measure = material.catalogue.measures.get(reading.measure)
    if not isinstance(reading.value, Numbers) or measure is None:
        return False
    return any(
        word.casefold() != measure.unit.casefold() for word in _UNIT_WORD.findall(reading.typed)
    )
