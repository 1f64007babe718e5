"""What stands beside an examination: never a reference or another student's beside a student's."""

import pytest

from footexam.store import Store
from tests.store.builders import fact, more, new_examination, new_patient

VISITS = (
    ("record", "2026-03-01", "record", "R. Lind"),
    ("reference", "2026-03-02", "reference", "A. Reference"),
    ("other", "2026-03-03", "student", "B. Other"),
    ("own", "2026-03-04", "student", "C. Student"),
    ("again", "2026-03-05", "student", "c. student "),
    ("second", "2026-03-06", "reference", "A. Reference"),
    ("later", "2026-03-07", "record", "R. Lind"),
)


@pytest.fixture
def visits(store: Store) -> dict[str, str]:
    patient = new_patient(store, "Volunteer")
    found = {}
    for name, day, purpose, examiner in VISITS:
        found[name] = new_examination(store, patient, day)
        person = {"name": examiner, "role": "student" if purpose == "student" else "clinician"}
        more(store, found[name], fact("exam:purpose", purpose), fact("exam:examiner", person))
    return found


@pytest.mark.parametrize(
    ("now", "before"),
    [
        ("record", []),
        ("reference", []),
        ("other", []),
        ("own", []),
        ("again", ["own"]),
        ("second", ["reference"]),
        ("later", ["record"]),
    ],
)
def test_only_its_own_series_stands_beside_it(
    store: Store, visits: dict[str, str], now: str, before: list[str]
) -> None:
    heads = [store.examination(visits[name]).head for name in before]
    assert [one.head for one in store.visits_before(visits[now])] == heads
    found = store.earlier(visits[now])
    assert ([found.head] if found else []) == heads
