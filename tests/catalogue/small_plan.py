"""Small files of aims, features, conflicts, materials and figures without a mistake."""

from tests.catalogue.small_arguments import ARGUMENTS

PLAN = {
    **ARGUMENTS,
    "features/aims.toml": """\
[[aim]]
id = "bend-more"
label.en = "Bend more"
says.en = "The joint should bend more."
hypotheses = ["stiff-bend", "tired"]
excludes = ["bend-less"]
note.en = "Prove it first."

[[aim]]
id = "bend-less"
label.en = "Bend less"
says.en = "The joint should bend less."
hypotheses = []
excludes = ["bend-more"]

[[aim]]
id = "rest"
label.en = "Rest"
says.en = "The heel should rest."
hypotheses = ["tired"]
""",
    "features/1-heel.toml": """\
[[feature]]
id = "wedge"
label.en = "Wedge"
aims = ["bend-more", "rest"]
zone = "heel"
bulk = 2
mechanism.en = "It tilts the heel."
where.en = "Under the heel."
made_of = ["felt"]
first = true
needs.en = "A deep shoe."

[[feature.for]]
aim = "rest"
first = true

[[feature.claim]]
about = "bend-more"
text.en = "Better than rest in a trial."
grade = "E1"
source = "quill-2010"
provenance = "published"

[[feature.claim]]
about = "harm"
text.en = "Blisters."
grade = "E4"
source = "common-practice"
provenance = "common-practice"

[[feature.avoid]]
when = 'bend <= 3 and pace == "slow"'
says.en = "It does not bend."
severity = "block"
source = "reed-2012"
provenance = "published"

[[feature.avoid]]
says.en = "The skin is thin."
severity = "warn"
source = "common-practice"
provenance = "common-practice"

[[feature.size]]
id = "height"
unit = "mm"
usual = 6
low = 0
high = 12
step = 0.5
tolerance = 1
formula = "lift-height"
source = "quill-2010"
provenance = "published"
note.en = "Start low."

[[feature.size]]
id = "angle"
unit = "deg"
usual = 4
low = 4
high = 4
step = 1
tolerance = 1
source = "common-practice"
provenance = "common-practice"
""",
    "features/2-cover.toml": """\
[[feature]]
id = "cover"
label.en = "Cover"
aims = ["bend-less", "rest"]
zone = "whole"
bulk = 0
mechanism.en = "It is soft."
claim = [{ about = "general", text = { en = "No study was found." }, grade = "E4", \
source = "common-practice", provenance = "common-practice" }]

[[feature.for]]
aim = "rest"
first = false

[[feature]]
id = "tape"
label.en = "Tape"
aims = ["rest"]
zone = "leg"
bulk = 0
mechanism.en = "It holds."

[[feature.claim]]
about = "rest"
text.en = "No study was found."
grade = "E4"
source = "common-practice"
provenance = "common-practice"
""",
    "features/conflicts.toml": """\
[[conflict]]
features = ["wedge", "cover"]
severity = "block"
why.en = "They lie in one place."
source = "common-practice"
provenance = "common-practice"

[[conflict]]
feature = "wedge"
aims = ["bend-less"]
severity = "warn"
why.en = "It bends more."
source = "reed-2012"
provenance = "published"

[[conflict]]
feature = "wedge"
one_sided = true
severity = "warn"
why.en = "The other leg is shorter then."
source = "common-practice"
provenance = "common-practice"

[[conflict]]
features = ["wedge", "tape"]
when = 'bend < 2'
severity = "block"
why.en = "Together they are too tight."
source = "common-practice"
provenance = "common-practice"

[[conflict.limit]]
feature = "wedge"
size = "height"
most = 2.5
""",
    "features/choice.toml": """\
[[argument]]
id = "wedge-needs-making"
says.en = "A wedge is made for the person."
points_to = "custom"
grade = "E4"
when = 'bend < 5'
features = ["wedge"]
aims = ["rest"]
source = "common-practice"
provenance = "common-practice"

[[argument]]
id = "no-difference"
says.en = "No trial tells them apart."
points_to = "prefabricated"
grade = "E1"
source = "quill-2010"
provenance = "published"
""",
    "features/materials.toml": """\
[[material]]
id = "cork"
label.en = "Cork"
use = ["post", "fill"]
modulus_low = 5
modulus_high = 10
density = 0.3
hardness.en = "45 to 60 Shore A"
stress_at = { 100 = 0.1, 200 = 0.25 }
note.en = "Replace it by the supplier's."
source = "reed-2012"
provenance = "estimate"

[[material]]
id = "felt"
label.en = "Felt"
use = ["cushion"]
source = "common-practice"
provenance = "common-practice"
""",
    "features/figures.toml": """\
[[figure]]
id = "relief-factor"
at = 0.595
source = "quill-2010"
provenance = "estimate"
note.en = "Fitted to one trial."
""",
}


def plan_with(name: str, old: str, new: str) -> dict[str, str]:
    """All files, one of them with a part replaced where it first stands."""
    text = PLAN[name]
    assert old in text, f"{old!r} does not stand in {name}"
    return {**PLAN, name: text.replace(old, new, 1)}
