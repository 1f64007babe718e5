"""A record whose every text tries to break the page."""

from datetime import date
from itertools import cycle, islice

from footexam.record.examination import Examination, Patient, Person
from footexam.record.reading import Activities, Numbers, Rows, Text
from footexam.terms import Absence, Role, Sex
from tests.reports.builders import LEFT, RIGHT, cautions_no, entry, numbers

MARKUP = '<b>bold</b> <bogus> &amp; &#65; </para> <font color="red"> %s {x} {0} \\n'
LONG_WORD = "Donaudampfschifffahrts" * 12
MARKS = "left\u200eright\u200fover\u202eride"
SCRIPTS = "שלום مرحبا 李小龍 q\u0323\u0301"
FOUR_THOUSAND = "".join(islice(cycle("Pain after standing all day; worse on stairs. "), 4000))


def hostile_examination() -> Examination:
    readings = cautions_no(but=("caution-numb-or-weak", "caution-open-wound"))
    readings |= dict(
        [
            entry("complaint", Text(FOUR_THOUSAND)),
            entry("impression", Text(LONG_WORD * 3)),
            entry("allergies", Rows(({"what": MARKUP, "since": "2011"}, {"what": LONG_WORD}))),
            entry("function-activities", Activities(((MARKUP, 4), (LONG_WORD, 0)))),
            entry("caution-numb-or-weak", None, absent=Absence.DECLINED, reason=MARKUP * 4),
            entry("caution-open-wound", None, LEFT, absent=Absence.DECLINED, reason=LONG_WORD),
            entry("ankle-dorsiflexion", numbers("9"), LEFT, note=MARKS, method=MARKUP),
            entry("ankle-dorsiflexion", None, RIGHT, absent=Absence.DECLINED, reason=LONG_WORD),
            entry("fpi-arch", numbers("1"), LEFT, note=SCRIPTS),
            entry("lunge-distance", Numbers(numbers("6.4").readings * 10), LEFT),
            entry("body-height", numbers("162.56"), typed=MARKUP, note=FOUR_THOUSAND[:1500]),
            entry("retired-measure", Text(MARKUP), typed=MARKUP + LONG_WORD),
        ]
    )
    patient = Patient(LONG_WORD, MARKUP, MARKUP, LONG_WORD, "1981-03-14", Sex.OTHER)
    return Examination(
        patient,
        date(2026, 5, 12),
        Person(MARKUP, Role.STUDENT),
        Person(LONG_WORD, Role.SUPERVISOR, 3),
        readings=readings,
        version=10**9,
        head="f" * 64,
    )
