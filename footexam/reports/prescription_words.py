"""The fixed words of a prescription, in English; part of `PHRASES`."""

from collections.abc import Mapping

PRESCRIPTION: Mapping[str, str] = {
    "rx-title": "Prescription for foot devices and shoes",
    "rx-held-head": "Held back, do not make",
    "rx-held": (
        "{side}: nothing is prescribed and no dimension is given while this is not decided: "
        "{names}. Ask the prescriber; make nothing from an earlier sheet."
    ),
    "rx-held-unnamed": "an open caution",
    "rx-side-left": "Left foot",
    "rx-side-right": "Right foot",
    "rx-sides-both": "Left foot and right foot",
    "rx-side-none": "Side not stated",
    "rx-nothing": "{side}: nothing is asked for.",
    "rx-nothing-all": "No feature is chosen: there is nothing to make yet.",
    # what
    "rx-what": "1  What to make",
    "rx-kind-custom": "{side}: one device made to the shape of the foot (custom).",
    "rx-kind-prefabricated": "{side}: one prefabricated device, changed as listed.",
    "rx-kind-both": (
        "{side}: a prefabricated device and features of a custom one are both asked for. Ask "
        "before making."
    ),
    "rx-kind-parts": "{side}: the single parts listed, without a shell.",
    "rx-mirror": (
        "Left is the patient’s left. Each side stands by itself; nothing is mirrored from the other"
        " side unless it is listed there too."
    ),
    "rx-for-custom": "Speaks for custom",
    "rx-for-prefabricated": "Speaks for prefabricated",
    "rx-for-none": "Speaks for no device",
    # why
    "rx-aims": "2  Why: aims, explanations, findings",
    "rx-aim": "{letter}  {aim}. {side}",
    "rx-aims-none": "No aim was kept; reasons stand with each feature.",
    "rx-rests": "{name}: {findings}",
    "rx-aim-without": "Kept without a feature: {what}. Ask whether something is missing.",
    "rx-feature-without": "Chosen without a kept aim: {what}.",
    # features
    "rx-features": "3  Features: {side}",
    "rx-standings": "usual: not chosen by the prescriber; worked out: by a formula",
    "rx-not-given": "Not given, ask before making: {what}.",
    "rx-not-given-side": "{side}. {told}",
    "rx-number": "No.",
    "rx-feature": "Feature, dimension, tolerance",
    "rx-where": "Position and material",
    "rx-why": "Mechanism, needs; aim; evidence",
    "rx-size": "{name} {value} ± {tolerance}",
    "rx-standing-chosen": "chosen",
    "rx-standing-worked": "worked out",
    "rx-standing-usual": "usual",
    "rx-size-note": " ({standing}{span}; {provenance}{cite})",
    "rx-size-span": ", {low} to {high}",
    "rx-published": "published",
    "rx-published-unchecked": "published, not checked",
    "rx-common-practice": "practice",
    "rx-estimate": "estimate",
    "rx-no-size": "No dimension.",
    "rx-position": "Position: {where}",
    "rx-position-line": "Position: ask; not stated",
    "rx-material": "Material: {what}",
    "rx-material-usual": "Material: {what} (usual, not chosen)",
    "rx-material-none": "Material: none asked for",
    "rx-material-line": "Material: ask; not stated",
    "rx-hardness": "{name}, {hardness}",
    "rx-feature-note": "Note: {note}",
    "rx-serves": "Aim {letters}",
    "rx-serves-other": "{aim}",
    "rx-grade": "{aim}; {grade}{cite}",
    "rx-E1": "controlled trials",
    "rx-E2": "cohorts or laboratory",
    "rx-E3": "comparison at one time",
    "rx-E4": "opinion or theory",
    "rx-evidence-none": "{aim}; no evidence recorded",
    "dimension-of": "dimension: {measure}",
    "evidence-of": "evidence: {measure}",
    "device-of": "choice of device: {measure}",
    "avoid-of": "when not to use: {measure}",
    # drawings
    "rx-drawings": "4  Drawings, {scale}",
    "rx-scale": "1:{scale}",
    "rx-drawn": (
        "Numbers as in the table. From the inner side: middle of the device on a flat base; broken "
        "line: inside of the shoe, insole out. Heights and places to scale, foot and arch a "
        "sketch; a number goes before the drawing. Check the bar of 50 mm."
    ),
    # the shoe
    "rx-shoe": "5  Shoe and room",
    "rx-stack-without": (
        "Heights without the shell, whose thickness is not given: less room than told here."
    ),
    "rx-toe-empty": "{side}, forefoot: nothing with a height lies there.",
    "rx-insole": "The removable insole comes out; the device takes its place.",
    "rx-heel-room": (
        "{side}, heel: device {stack} mm high, {left} mm of the counter left ({percent} % of it): "
        "{fits}."
    ),
    "rx-toe-room": (
        "{side}, forefoot: device {stack} mm high, {margin} mm left over the toes: {fits}."
    ),
    "rx-heel-unknown": (
        "{side}, heel: device {stack} mm high; room not worked out without {what}."
    ),
    "rx-toe-unknown": (
        "{side}, forefoot: device {stack} mm high; room not worked out without {what}."
    ),
    "rx-fits": "fits",
    "rx-fits-not": "does NOT fit, ask before making",
    "rx-fits-over": "does NOT fit by {over} mm, ask before making",
    # the patient
    "rx-person": "6  The foot and the person",
    "rx-no-sense": "Not recorded: feeling of the foot. Ask before any edge, opening or flange.",
    "rx-sides": "{label}: left {left}, right {right}",
    "rx-one": "{label}: {value}",
    # against
    "rx-against": "7  Clashes and reasons against",
    "rx-against-none": "None that the record shows.",
    "rx-avoid": "{feature}: {why}",
    "rx-clash": "{feature} against {other}: {why}",
    "rx-warn": "Advised against",
    "rx-block": "REFUSED unless the prescriber confirms",
    "rx-remark": "{feature}, {size}: {why}",
    "rx-odd": "Check the number",
    "rx-bare": "Not worked out",
    "rx-unmet": "Before it is given: {what}. Not recorded: {missing}.",
    # keep
    "rx-keep": "8  Not to be changed without asking",
    "rx-keep-text": (
        "Side; dimensions beyond their tolerance; angle and side of posts and skives and their "
        "sum; material, thickness, hardness; place, size and edge of reliefs, openings and pads; "
        "where shell and cover end. What is not listed is not wanted: an empty line never means "
        "“as usual”. Leaving something out for the shoe is a change. Bevel all edges."
    ),
    "rx-ask": "Ask where this sheet says so or contradicts itself.",
    "rx-phone": "Prescriber’s telephone and times",
    # by hand
    "rx-hand": "9  To be filled in by the prescriber and the maker",
    "rx-hand-shape": "Shape: how taken, load, first ray, marks",
    "rx-hand-success": "Success: measure, now, wanted, review",
    "rx-hand-order": "Pairs, needed by, delivered to, fitting",
    "rx-hand-cover": "Cover: friction, glue, substances not borne",
    "rx-hand-trace": "Maker, date, batches, deviations agreed with",
    "rx-local": "local law may ask for a maker’s statement",
    "rx-missing": "Missing from the record",
    "rx-missing-text": "Not recorded: {what}. Numbers that rest on it are usual values or absent.",
}
