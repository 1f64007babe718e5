"""A clock that steps back is stored and flagged."""

from datetime import UTC, datetime

from footexam.record.entry import first_link
from footexam.record.journal import Journal
from footexam.store import Store
from footexam.store.clock import ClockStep, clock_steps, stepped_back
from tests.store.builders import reading


def steps(*times: str) -> tuple[ClockStep, ...]:
    journal = Journal("examination:1")
    for at in times:
        journal.append(reading(at=at))
    return clock_steps(journal)


def test_a_clock_that_goes_forward_or_stands_is_not_flagged() -> None:
    assert steps() == ()
    assert steps("2026-03-04T10:00:00Z", "2026-03-04T10:00:00Z", "2026-03-04T10:00:01Z") == ()


def test_a_step_back_is_flagged_once_with_its_size() -> None:
    first, back = "2026-03-04T10:00:00Z", "2026-03-04T09:00:00Z"
    assert steps(first, back, "2026-03-04T09:00:05Z") == (ClockStep(2, back, first, 3600.0),)


def test_summer_time_is_no_step_because_times_are_utc() -> None:
    assert steps("2026-10-25T02:30:00+02:00", "2026-10-25T02:00:00+01:00") == ()


def test_a_time_that_cannot_be_read_is_flagged_and_passed_over() -> None:
    one, odd, other = "2026-03-04T10:00:00Z", "yesterday", "2026-03-04T09:59:00Z"
    assert steps(odd, one, odd, other) == (
        ClockStep(1, odd, "", None),
        ClockStep(3, odd, one, None),
        ClockStep(4, other, one, 60.0),
    )


def test_a_time_without_zone_is_utc() -> None:
    assert steps("2026-03-04T10:00:00", "2026-03-04T09:59:30Z")[0].back_s == 30.0


def test_the_store_keeps_what_it_is_given(store: Store) -> None:
    subject = store.new_subject("examination")
    late, early = "2026-03-04T10:00:00Z", "2026-03-04T09:00:00Z"
    store.append(subject, first_link(subject), [reading(at=late), reading(at=early)])
    assert [step.seq for step in clock_steps(store.journal(subject))] == [2]
    assert store.last_written_at() == early


def test_the_clock_against_the_last_entry_of_the_store() -> None:
    now = datetime(2026, 3, 4, 10, tzinfo=UTC)
    assert stepped_back("2026-03-04T10:05:00Z", now) == 300.0
    assert stepped_back("2026-03-04T09:05:00Z", now) == 0.0
    assert stepped_back("", now) == 0.0
