"""Small files of cautions, gates, hypotheses and conditions without a mistake, beside small.py."""

from tests.catalogue.small import FORMS

ARGUMENTS = {
    "panels/3-maps.toml": """\
[panel]
id = "maps"
label.en = "Maps"
position.en = "lying"
hint.en = "Lie down."

[[measure]]
id = "where"
kind = "regions"
sided = true
depth = "core"
label.en = "Where"
how.en = "Point."
against.en = "None seen."

[[measure]]
id = "bone"
kind = "yes-sites"
sided = true
depth = "core"
label.en = "Bone"
how.en = "Press."
against.en = "None seen."

[[measure]]
id = "hobbies"
kind = "several"
words = ["slow", "fast"]
depth = "more"
label.en = "Hobbies"
how.en = "Ask."
against.en = "None seen."

[[measure]]
id = "mass"
kind = "quantity"
unit = "kg"
unit_words = ["kg"]
hard_low = 1
hard_high = 300
depth = "core"
label.en = "Mass"
how.en = "Weigh."
against.en = "None seen."
""",
    "cautions.toml": """\
[[caution]]
id = "broken"
label.en = "Broken"
holds = ["loading", "device"]

[[caution.branch]]
id = "broken-now"
tier = "emergency"
when = 'bone == "yes" and region(bone, "heel")'
trigger.en = "The bone hurts."
action.en = "Go now."
umbrella = ["bone", "hurry"]
unfolds = ["sore"]
source = "quill-2010"
provenance = "published"
guideline = "Guide 2010"
country = "Nowhere"
note.en = "Rare."

[[caution.branch]]
id = "broken-later"
tier = "same-day"
when = 'sore == "yes" and sex == "female"'
trigger.en = "It is sore."
action.en = "Go today."
umbrella = []
unfolds = []
source = "reed-2012"
provenance = "common-practice"
""",
    "gates.toml": """\
[[gate]]
id = "no-hop"
label.en = "No hopping"
forbids = ["pace"]
because.en = "A danger sign is open."
record.en = "Press the bone first."
source = "quill-2010"
provenance = "published"

[[gate.cause]]
when = 'bone == "yes"'
says.en = "The bone hurts."

[[check]]
id = "before-boot"
label.en = "Before a boot"
asks = ["sore"]
says.en = "Ask first."
source = "reed-2012"
provenance = "common-practice"
""",
    "hypotheses/1-all.toml": """\
[[hypothesis]]
id = "stiff-bend"
label.en = "Stiff bend"
statement.en = "A stiff bend would be expected to load the heel."
mechanism.en = "Less bend, more load."
tissue.en = "heel"
side_of_argument = "load"
stable = true
why_now = false
conditions = ["heel-ache"]
grade_mechanics = "E2"
grade_injury = "E3"
counter.en = "Most stiff people have no pain."
test.en = "Bend again."
tests = ["bend"]

[[hypothesis.evidence]]
text.en = "Stiff people had more load."
source = "quill-2010"
provenance = "published"

[[hypothesis.require]]
when = 'low(bend) and region(where, "heel")'
says.en = "It bends little."
group = "range"
points = 3

[[hypothesis.support]]
when = 'pace == "fast" or has(hobbies, "fast")'
says.en = "The pace is fast."
points = 2.5

[[hypothesis.support]]
when = 'sore == "yes"'
says.en = "It is sore."
ratio = 2.5
source = "reed-2012"
provenance = "published-unchecked"
note.en = "n 20."

[[hypothesis.against]]
when = 'side_difference(bend) > 20 or age < 18'
says.en = "The sides differ."
points = 1

[[hypothesis.against]]
when = 'sore == "no"'
says.en = "It is not sore."
ratio = 0.4
source = "reed-2012"
provenance = "published-unchecked"

[[hypothesis]]
id = "tired"
label.en = "Tired"
statement.en = "Tiredness would be expected to lower what the heel bears."
mechanism.en = "Less muscle."
tissue.en = "heel"
side_of_argument = "capacity"
conditions = []
grade_mechanics = "E4"
grade_injury = "E4"
counter.en = "Nobody measured it."
test.en = "Rest."
tests = []
evidence = [{ source = "common-practice", provenance = "common-practice" }]
require = [{ when = 'pace == "slow"', says = { en = "Slow." }, points = 0 }]
against = [{ when = 'bend-left-right < 1', says = { en = "Even." }, points = 1 }]
""",
    "defeaters.toml": """\
[[defeater]]
id = "guarded"
measures = ["bend"]
when = 'sore == "yes"'
says.en = "It was guarded."
unless = ["calm"]
source = "quill-2010"
provenance = "published"

[[defeater]]
id = "calm"
measures = []
when = 'pace == "slow"'
says.en = "Done slowly."
source = "common-practice"
provenance = "common-practice"
""",
    "conditions/heel.toml": """\
[[condition]]
id = "heel-ache"
label.en = "Heel ache"
regions = ["heel"]
tissue.en = "Heel"
modes = ["compression", "tension"]
nonunion_risk = "low"
reds_site_class = "none"
companions = ["broken"]
imaging.en = "None."
refer.en = "If it stays."
first_line.en = "Wait."

[[condition.raises]]
text.en = "Sore in the morning."
when = 'sore == "yes"'
ratio = 3
source = "quill-2010"
provenance = "published"

[[condition.lowers]]
text.en = "Not sore."
ratio = 0.5
source = "reed-2012"
provenance = "published"

[[condition.claim]]
about = "first_line"
source = "reed-2012"
provenance = "published"
""",
    "accuracy.toml": """\
[[accuracy]]
id = "sore-heel-ache"
measure = "sore"
target.en = "heel ache"
condition = "heel-ache"
reference.en = "Picture"
source = "quill-2010"
provenance = "published"
sensitivity = 0.8
specificity = 0.7
ratio_positive = 2.67
ratio_negative = 0.29
computed = true

[[accuracy]]
id = "elsewhere"
measure = ""
target.en = "something else"
condition = ""
reference.en = "None"
source = "reed-2012"
provenance = "published"
sensitivity = 0.9
specificity = 1.0
ratio_positive = 0.5
doubtful.en = "A positive test that argues against."
""",
    "weighing.toml": """\
[[weighing]]
id = "minutes-other"
at = 0.5
unit = "min"
source = "common-practice"
provenance = "common-practice"

[[weighing]]
id = "minutes-move"
at = 1
unit = "min"
source = "common-practice"
provenance = "common-practice"

[[weighing]]
id = "reliability-unknown"
at = 0.5
source = "common-practice"
provenance = "common-practice"
""",
    "sources.toml": FORMS["sources.toml"]
    + """
[[source]]
id = "common-practice"
citation = "Rule of thumb of the trade"
""",
}


def arguments_with(name: str, old: str, new: str) -> dict[str, str]:
    """All files, one of them with a part replaced where it first stands."""
    text = ARGUMENTS[name]
    assert old in text, f"{old!r} does not stand in {name}"
    return {**ARGUMENTS, name: text.replace(old, new, 1)}
