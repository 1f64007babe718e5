"""A small forms/ folder without a mistake, and the same with one."""

from pathlib import Path

FORMS = {
    "languages.toml": 'languages = ["en"]\n',
    "sources.toml": """\
[[source]]
id = "quill-2010"
citation = "Quill 2010, J Gait 1:1"
doi = "10.1000/1"

[[source]]
id = "reed-2012"
citation = "Reed 2012, J Gait 3:9"
pmid = "12345"
""",
    "words.toml": """\
stiff.en = "stiff"
very-stiff.en = "very stiff"
outside.en = "outside"
slow.en = "slow"
fast.en = "fast"
before.en = "before"
after.en = "after"
tape.en = "tape measure"
radiograph.en = "radiograph"
""",
    "regions.toml": """\
[[region]]
id = "heel"
groups = ["heel"]
view = "plantar"
high_risk = true
label.en = "Heel"

[[region]]
id = "shin"
groups = ["leg"]
view = "leg"
label.en = "Shin"
""",
    "renamed.toml": """\
[measure]
ankle-angle = "bend"
""",
    "contexts.toml": """\
[[context]]
id = "hurry"
when = "pace=fast or age<18"
label.en = "In a hurry"
""",
    "panels/1-standing.toml": """\
# what is asked standing
[panel]
id = "standing"
label.en = "Standing"
position.en = "standing"
hint.en = "Stand at ease."

[[measure]]
id = "bend"
kind = "quantity"
unit = "deg"
unit_words = ["°", "rad"]
decimals = 1
sided = true
repeats = true
best = false
methods = ["tape", "radiograph"]
hard_low = -10
hard_high = 60.50
ask_low = 0
ask_high = 50
ask_from_age = 18
depth = "core"
when = ""
heading.en = "Bend"
label.en = "How far it bends"
how.en = "Bend it."
against.en = "No agreement figures seen."

[[measure.error]]
examiner = "same"
sem = 1.25
source = "quill-2010"
provenance = "published"

[[measure.error]]
examiner = "other"
sd = 3.0
icc = 0.90
method = "tape"
source = "reed-2012"
provenance = "estimate"
note.en = "From a figure."

[[measure.error]]
examiner = "other"
mdc95 = 9.9
used = false
source = "reed-2012"
provenance = "published"

[[measure]]
id = "pace"
kind = "choice"
words = ["slow", "fast"]
depth = "more"
label.en = "Pace"
how.en = "Watch."
against.en = "No agreement figures seen."

[[measure]]
id = "growth"
kind = "choice"
words = ["before", "after"]
depth = "more"
label.en = "Growth"
how.en = "Ask."
against.en = "No agreement figures seen."

[[measure]]
id = "sore"
kind = "yes-no"
depth = "when"
when = "pace=fast and (bend>=10 or bend recorded) and sex!=male"
label.en = "Sore"
how.en = "Ask."
against.en = "No agreement figures seen."

[[measure]]
id = "bend-left-right"
kind = "derived"
unit = "deg"
derived_from = ["bend"]
depth = "when"
label.en = "Difference"
how.en = "Worked out."
against.en = "See the bend."

[[measure.rule]]
id = "far"
at = 2.5
unit = "deg"
source = "quill-2010"
provenance = "published"

[[measure.rule]]
id = "of-note"
words = ["left knee"]
source = "reed-2012"
provenance = "estimate"
note.en = "A guess."
""",
    "panels/2-moving.toml": """\
[panel]
id = "moving"
label.en = "Moving"
position.en = "moving"
hint.en = "Walk."

[[measure]]
id = "days-out"
kind = "table"
none_known = true
depth = "core"
label.en = "Days out"
how.en = "Ask."
against.en = "Memory."

[[measure.column]]
id = "minutes"
kind = "number"
hard_low = 0
hard_high = 1440
label.en = "Minutes"

[[measure.column]]
id = "ground"
kind = "choice"
words = ["slow", "fast"]
label.en = "Ground"
""",
    "norms/bend.toml": """\
[[set]]
id = "bend-adults"
measure = "bend"
source = "quill-2010"
provenance = "published"
label.en = "Adults"
round_to = 1
spread = "estimate"
note.en = "SD implied by the bands."

[[set.group]]
id = "young"
label.en = "18 to 40"
default = true
sex = "female"
side = "left"
ages = [18, 40]
needs = { growth = ["after"] }
n = 90
mean = 20
sd = 4.5
low = [
  { op = "<", at = 12, state = "stiff" },
  { op = "<=", at = 5, state = "very-stiff", source = "reed-2012", provenance = "estimate" },
]
high = [ { op = ">=", at = 35, state = "outside" }, { op = ">", at = 45, state = "very-stiff" } ]

[[set.group]]
id = "old"
label.en = "41 on"
default = true
sex = "female"
side = "left"
ages = [41, 120]
mean = 15.25
sd = 5.0

[[set]]
id = "bend-film"
measure = "bend"
source = "reed-2012"
provenance = "published-unchecked"
methods = ["radiograph"]
judged = false
interpolate = true
label.en = "On film"

[[set.group]]
id = "all"
label.en = "All"
ages = [0, 120]
mean = 18
sd = 4

[[set]]
id = "pace-usual"
measure = "pace"
source = "quill-2010"
provenance = "common-practice"
outside = ["fast"]
label.en = "Pace"

[[set]]
id = "sore-usual"
measure = "sore"
source = "quill-2010"
provenance = "common-practice"
outside = ["yes"]
label.en = "Sore"

[[difference]]
id = "bend-sides"
measure = "bend"
source = "quill-2010"
provenance = "published"
label.en = "Left and right"
cuts = [ { op = ">", at = 6, state = "outside" }, { op = ">", at = 9.5, state = "stiff" } ]
sd = 2.5
spread = "estimate"
note.en = "SD from the cut."

[[difference]]
id = "bend-sides-film"
measure = "bend"
source = "quill-2010"
provenance = "published"
methods = ["radiograph"]
label.en = "Left and right on film"
cuts = []
sd = 2.5
""",
}


def write_forms(folder: Path, files: dict[str, str] | None = None) -> Path:
    """The folder with these files, and those of FORMS that are not named among them."""
    for name, text in {**FORMS, **(files or {})}.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode())
    return folder


def with_mistake(name: str, old: str, new: str) -> dict[str, str]:
    """One file with a part replaced where it first stands."""
    text = FORMS[name]
    assert old in text, f"{old!r} does not stand in {name}"
    return {name: text.replace(old, new, 1)}
