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
    "rx-sides-both": "Left foot and right foot, both as listed",
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
    "rx-aims": "2  Why: aims",
    "rx-aim": "Aim",
    "rx-aim-side": "Side",
    "rx-aim-serves": "Proposed explanation and what it rests on",
    "rx-aims-none": "No aim was kept; reasons stand with each feature.",
    "rx-rests": "{name}: {findings}",
    "rx-aim-without": "Kept without a feature: {what}. Ask whether something is missing.",
    "rx-feature-without": "Chosen without a kept aim: {what}.",
    # features
    "rx-features": "3  Features: {side}",
    "rx-not-given": "Not given, ask before making: {what}.",
    "rx-number": "No.",
    "rx-feature": "Feature, dimension, tolerance",
    "rx-where": "Position and material",
    "rx-why": "Aim and mechanism",
    "rx-size": "{name} {value} ± {tolerance}",
    "rx-size-plain": "{name} {value}",
    "rx-standing-chosen": "chosen",
    "rx-standing-worked": "worked out",
    "rx-standing-usual": "usual, not chosen",
    "rx-size-note": " ({standing}{span}; {provenance}{cite}).",
    "rx-size-span": ", {low} to {high}",
    "rx-no-size": "No dimension.",
    "rx-position": "Position: {where}",
    "rx-position-line": "Position: ask; not stated",
    "rx-material": "Material: {what}",
    "rx-material-usual": "Material: {what} (usual, not chosen)",
    "rx-material-none": "Material: none",
    "rx-hardness": "{name}, {hardness}",
    "rx-feature-note": "Note: {note}",
    "rx-aim-mechanism": "{aim}. {mechanism}",
    "rx-grade": " Evidence: {grade}{cite}.",
    "rx-evidence-none": " No evidence recorded.",
    "dimension-of": "dimension: {measure}",
    "evidence-of": "evidence: {measure}",
    "device-of": "choice of device: {measure}",
    "avoid-of": "when not to use: {measure}",
    # drawings
    "rx-drawings": "4  Drawings, {scale}",
    "rx-scale": "1:{scale}",
    "rx-drawn": (
        "Numbers are those of the features. Print without scaling and check the bar of 50 mm. "
        "Where a drawing and a number differ, the number counts."
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
    "rx-unmet": "Before it is given: {what}. Not recorded: {missing}.",
    # keep
    "rx-keep": "8  Not to be changed without asking",
    "rx-keep-text": (
        "Side. Every dimension beyond its tolerance. Angle and side of each post and skive, and "
        "their sum. Material, thickness and hardness. Place, size and edge of each relief, opening "
        "and pad. Where the shell and the cover end. A feature that is not listed is not wanted: "
        "an empty line never means “as usual”. Replacing a material or leaving something out "
        "because of the shoe is a change. Edges are bevelled and smooth."
    ),
    "rx-ask": "Ask before making where this sheet says so, or where two of its lines disagree.",
    "rx-phone": "Ask the prescriber at (telephone, times)",
    # by hand
    "rx-hand": "9  To be filled in by the prescriber and the maker",
    "rx-hand-shape": (
        "Shape of the foot: how taken, load, held by, first ray, heel line, places marked"
    ),
    "rx-hand-success": "Success: measure, value now, wanted, by when; date of review",
    "rx-hand-order": "Pairs wanted, needed by, delivered to; fitting and adjustment",
    "rx-hand-cover": "Top cover: friction, glue, substances not borne (chrome, colophony, latex)",
    "rx-hand-trace": "Maker: name, date, batches of materials, deviations agreed with",
    "rx-local": (
        "A device made for one person may by local law need a maker’s statement; check what "
        "applies."
    ),
    "rx-missing": "Missing from the record",
    "rx-missing-text": "Not recorded: {what}. Numbers that rest on it are usual values or absent.",
}
