"""Mistakes in the figures and remarks of training load."""

from pathlib import Path

import pytest

from footexam.catalogue.load import load_catalogue
from footexam.catalogue.mistakes import BadForms
from footexam.catalogue.training import FIGURES, SUBJECTS
from tests.catalogue.small import write_forms
from tests.published.cases import forms

REMARK = """
[[remark]]
id = "is-coupled"
about = "ratio"
text.en = "Goes together by arithmetic."
source = "quill-2010"
provenance = "published"
"""


def training(without: str = "") -> str:
    return "".join(
        f'[[training]]\nid = "{name}"\nat = 7\nunit = "days"\n'
        'source = "quill-2010"\nprovenance = "published"\n\n'
        for name in sorted(FIGURES - {without})
    )


GOOD = training() + REMARK


def told(tmp_path: Path, text: str) -> str:
    folder = write_forms(tmp_path)
    (folder / "training.toml").write_text(text, encoding="utf-8")
    with pytest.raises(BadForms) as bad:
        load_catalogue(folder)
    assert len(bad.value.mistakes) == 1
    return str(bad.value.mistakes[0])


def test_figures_and_remarks_are_read(tmp_path: Path) -> None:
    folder = write_forms(tmp_path)
    (folder / "training.toml").write_text(GOOD, encoding="utf-8")
    catalogue = load_catalogue(folder)
    assert set(catalogue.training) == FIGURES
    assert catalogue.remarks["is-coupled"].text["en"] == "Goes together by arithmetic."


def test_the_shipped_forms_speak_of_every_value() -> None:
    assert {remark.about for remark in forms().remarks.values()} == SUBJECTS


@pytest.mark.parametrize(
    ("text", "what"),
    [
        (training("acute-days") + REMARK, "“acute-days” is missing"),
        (GOOD.replace("at = 7", "at = 0", 1), "a figure of training is a number above 0"),
        (GOOD.replace("at = 7", 'words = ["a"]', 1), "a figure of training is a number above 0"),
        (GOOD.replace("quill-2010", "quail", 1), "“quail” is not known"),
        (GOOD.replace(REMARK, REMARK.replace("quill-2010", "quail")), "“quail” is not known"),
        (GOOD.replace('"ratio"', '"speed"'), "“speed” is no value that a remark speaks of"),
    ],
)
def test_a_mistake_is_told(tmp_path: Path, text: str, what: str) -> None:
    assert what in told(tmp_path, text)
