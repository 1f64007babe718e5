"""Loads forms/ into a Catalogue: from the files, or from the cache when they have not changed."""

import tomllib
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path
from typing import Any

from footexam.catalogue import cache
from footexam.catalogue.build import Trees, build
from footexam.catalogue.check import check
from footexam.catalogue.fields import TrustedFields
from footexam.catalogue.lines import line_map, line_of
from footexam.catalogue.mistakes import BadForms, Complaint, Mistake
from footexam.catalogue.model import Catalogue
from footexam.resources import forms_dir


def load_catalogue(forms: Path | None = None, cache_dir: Path | None = None) -> Catalogue:
    """The catalogue of a forms/ folder (default: the one shipped).

    `cache_dir` None keeps no cache. Raises BadForms with every mistake found.
    """
    texts = _read(forms or forms_dir())
    digest = cache.digest(texts)
    complaints: list[Complaint] = []
    trees = cache.load(cache_dir, digest) if cache_dir else None
    if trees is not None:
        return build(trees, complaints.append, TrustedFields)[0]
    trees, mistakes = _parse(texts)
    catalogue, places = build(trees, complaints.append)
    if not mistakes and not complaints:
        complaints.extend(check(catalogue, places))
    mistakes += [_located(complaint, texts) for complaint in complaints]
    if mistakes:
        raise BadForms(sorted(mistakes, key=lambda mistake: (mistake.file, mistake.line)))
    if cache_dir:
        cache.save(cache_dir, digest, trees)
    return catalogue


def _read(forms: Path) -> dict[str, bytes]:
    files = sorted(forms.rglob("*.toml"))
    if not files:
        raise BadForms([Mistake("", 1, "no TOML file is there", "install the program again")])
    return {file.relative_to(forms).as_posix(): file.read_bytes() for file in files}


def _parse(texts: Mapping[str, bytes]) -> tuple[Trees, list[Mistake]]:
    trees: dict[str, Mapping[str, Any]] = {}
    mistakes: list[Mistake] = []
    for name, data in texts.items():
        try:
            trees[name] = tomllib.loads(data.decode(), parse_float=Decimal)
        except UnicodeDecodeError:
            mistakes.append(Mistake(name, 1, "the file is not UTF-8 text", "save it as UTF-8"))
        except (ValueError, RecursionError) as bad:
            mistakes.append(_syntax(name, data.decode(), bad))
    return trees, mistakes


def _syntax(name: str, text: str, bad: Exception) -> Mistake:
    """The line of a syntax error; tomllib (3.11 to 3.13) names it only in its message.

    Numbers and nesting beyond what Python reads have no line.
    """
    words = str(bad).replace("(at end of document)", f"(at line {text.count(chr(10)) + 1},")
    _, _, tail = words.rpartition("(at line ")
    digits = tail.split(",")[0]
    line = int(digits) if digits.isdecimal() else 1
    return Mistake(name, line, f"this is not TOML ({str(bad).split(' (at')[0]})", "mend that line")


def _located(complaint: Complaint, texts: Mapping[str, bytes]) -> Mistake:
    place = complaint.place
    lines = line_map(texts.get(place.file, b"").decode())
    return Mistake(place.file, line_of(lines, place.path), complaint.what, complaint.todo)
