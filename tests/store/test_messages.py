"""Every trouble has a whole sentence, and every sentence is of some trouble."""

import re
from pathlib import Path

import pytest

from footexam.store.messages import STORE, WARNINGS, store_sentence, warning

SOURCES = Path(__file__).resolve().parents[2] / "footexam" / "store"
ANY = {
    name: f"<{name}>"
    for name in ("where", "what", "why", "known", "subject", "pid", "since", "host", "lock")
}


@pytest.mark.parametrize("code", STORE)
def test_a_sentence_says_what_happened_what_is_safe_and_what_to_do(code: str) -> None:
    line = store_sentence(code, ANY)
    assert line[0].isupper() or line.startswith("<where>")
    assert line.endswith(".")
    assert len(line.split("; ")) >= 3
    assert "{" not in line


@pytest.mark.parametrize("code", STORE)
def test_every_code_is_raised_somewhere(code: str) -> None:
    sources = [path.read_text("utf-8") for path in SOURCES.glob("*.py") if path.stem != "messages"]
    assert any(f'"{code}"' in source for source in sources)


def test_every_code_that_is_raised_has_a_sentence() -> None:
    raised = {
        code
        for path in SOURCES.glob("*.py")
        for code in re.findall(r'KnownError\(\s*"([a-z-]+)"', path.read_text("utf-8"))
    }
    assert raised <= set(STORE)
    assert len(raised) > 15


@pytest.mark.parametrize("code", WARNINGS)
def test_a_warning_is_filled_and_used(code: str) -> None:
    line = warning(code, where="<where>", what="<what>")
    assert line.endswith(".")
    assert "{" not in line
    assert any(f'warning("{code}"' in path.read_text("utf-8") for path in SOURCES.glob("*.py"))
