"""Blocks of letters as read, every mistake that is told, and what the shipped ones hold."""

from pathlib import Path

import pytest

from footexam.catalogue.letters import (
    FACTS,
    SLOTS,
    Better,
    Block,
    Document,
    Outcome,
    slots_of,
)
from footexam.catalogue.load import load_catalogue
from footexam.catalogue.mistakes import BadForms
from footexam.catalogue.model import Catalogue
from footexam.terms import Provenance
from tests.catalogue.small import write_forms
from tests.catalogue.small_plan import PLAN
from tests.catalogue.test_arguments import line

LETTER, PLAIN = "letters/referral.toml", "letters/plain.toml"
FILES = {
    **PLAN,
    LETTER: """\
[[block]]
id = "to"
document = "referral"
order = 10
text.en = "To {to}. About {patient}."
kept = true

[[block]]
id = "wear"
document = "leaflet"
order = 10
heading.en = "Wear it"
when = 'bend < 5'
facts = ["device"]
without = ["held"]
features = ["wedge"]
hypotheses = ["tired"]
text.en = "Wear it for 1 hour. {help}"
instead.en = "Ask."
write = true
source = "quill-2010"
provenance = "published"

[[outcome]]
id = "bend"
better = "more"
""",
    PLAIN: "".join(
        f'[[plain]]\nid = "{name}"\ntext.en = "{name} it"\n\n'
        for name in ("bend-more", "bend-less", "rest", "wedge", "cover", "tape")
    ),
}


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory) -> Catalogue:
    return load_catalogue(write_forms(tmp_path_factory.mktemp("forms"), FILES))


def test_a_block(small: Catalogue) -> None:
    assert small.blocks["wear"] == Block(
        id="wear",
        document=Document.LEAFLET,
        order=10,
        text={"en": "Wear it for 1 hour. {help}"},
        heading={"en": "Wear it"},
        when="bend < 5",
        facts=("device",),
        without=("held",),
        features=("wedge",),
        hypotheses=("tired",),
        instead={"en": "Ask."},
        write=True,
        source="quill-2010",
        provenance=Provenance.PUBLISHED,
    )
    to = small.blocks["to"]
    assert (to.heading, to.when, to.facts, to.instead, to.write) == (None, "", (), None, False)
    assert (to.kept, to.source, to.provenance) == (True, "", None)


def test_an_outcome_and_plain_words(small: Catalogue) -> None:
    assert list(small.outcomes.values()) == [Outcome("bend", Better.MORE)]
    assert small.plain["wedge"].text == {"en": "wedge it"}


def test_the_cache_gives_the_same(tmp_path: Path, small: Catalogue) -> None:
    forms = write_forms(tmp_path / "forms", FILES)
    load_catalogue(forms, tmp_path / "cache")
    cached = load_catalogue(forms, tmp_path / "cache")
    assert (cached.blocks, cached.outcomes, cached.plain) == (
        small.blocks,
        small.outcomes,
        small.plain,
    )


WRONG = [
    ('document = "leaflet"', 'document = "poem"', 'document = "poem"', "“poem” is not known"),
    ("kept = true", "keep = true", "keep = true", "the key “keep” is not known here"),
    ('text.en = "To {to}. About {patient}."\n', "", "[[block]]", "“text” is missing"),
    ("bend < 5", "bendy < 5", "bendy < 5", "“bendy” is not known"),
    ("bend < 5", "bend <", "bend <", "cannot be read"),
    ('["device"]', '["device-made"]', "device-made", "“device-made” is no fact of a plan"),
    ('["held"]', '["hold"]', '["hold"]', "“hold” is no fact of a plan"),
    ('["wedge"]', '["wedges"]', '["wedges"]', "“wedges” is not known"),
    ('["tired"]', '["tyred"]', '["tyred"]', "“tyred” is not known"),
    ("{to}", "{whom}", "{whom}", "“whom” is not filled in here"),
    ("{to}", "{help}", "About {patient}", "“help” is not filled in here"),
    ("{to}", "{", "To {.", "a brace stands alone"),
    ("Ask.", "Ask {who}.", "Ask {who}.", "“who” is not filled in here"),
    ("To {to}", "Caused by {to}", "Caused by", "a letter never says “caused by”"),
    ('"Ask."', '"It causes pain."', "It causes", "a letter never says “caused by”"),
    ('"quill-2010"', '"quail"', '"quail"', "“quail” is not known"),
    ('source = "quill-2010"\n', "", "#2 [[block]]", "a figure has no source"),
    ('provenance = "published"\n', "", "#2 [[block]]", "source and provenance belong together"),
    ('"leaflet"\norder = 10', '"referral"\norder = 10', "#2 order", "“to” has this order too"),
    ('id = "bend"', 'id = "bendy"', '"bendy"', "“bendy” is not known"),
    ('"more"', '"greater"', '"greater"', "“greater” is not known for “better”"),
]


@pytest.mark.parametrize(("old", "new", "at", "what"), WRONG)
def test_a_mistake_is_told_with_file_and_line(
    tmp_path: Path, old: str, new: str, at: str, what: str
) -> None:
    assert old in FILES[LETTER]
    files = {**FILES, LETTER: FILES[LETTER].replace(old, new, 1)}
    with pytest.raises(BadForms) as bad:
        load_catalogue(write_forms(tmp_path, files))
    found = [one for one in bad.value.mistakes if what in one.what]
    assert found, str(bad.value)
    assert (found[0].file, found[0].line) == (LETTER, line(files[LETTER], at)), str(bad.value)


@pytest.mark.parametrize(
    ("old", "new", "what"),
    [
        ('id = "wedge"', 'id = "wedges"', "“wedges” is not known"),
        ('id = "wedge"', 'id = "rest"', "“rest” is given twice"),
        ("rest it", "what caused by", "a letter never says “caused by”"),
        (
            '[[plain]]\nid = "cover"\ntext.en = "cover it"\n\n',
            "",
            "“cover” has no plain words",
        ),
    ],
)
def test_a_mistake_in_the_plain_words(tmp_path: Path, old: str, new: str, what: str) -> None:
    files = {**FILES, PLAIN: FILES[PLAIN].replace(old, new, 1)}
    with pytest.raises(BadForms, match=what) as bad:
        load_catalogue(write_forms(tmp_path, files))
    assert {one.file for one in bad.value.mistakes} == {PLAIN}


def test_one_order_in_two_documents_and_a_source_without_a_figure(tmp_path: Path) -> None:
    text = FILES[LETTER].replace("1 hour", "an hour")
    assert load_catalogue(write_forms(tmp_path, {**FILES, LETTER: text})).blocks


# --- the shipped ones


def test_every_fact_and_every_slot_is_used(catalogue: Catalogue) -> None:
    blocks = catalogue.blocks.values()
    used = {name for block in blocks for name in (*block.facts, *block.without)}
    assert used <= FACTS
    for document in Document:
        texts = [one.text["en"] for one in blocks if one.document is document]
        assert {slot for text in texts for slot in slots_of(text)} == SLOTS[document]


def test_every_document_has_blocks_and_every_aim_plain_words(catalogue: Catalogue) -> None:
    assert {one.document for one in catalogue.blocks.values()} == set(Document)
    assert catalogue.plain.keys() == catalogue.aims.keys() | catalogue.features.keys()
    assert len(catalogue.outcomes) >= 6


def test_no_plain_word_says_right_for_correct(catalogue: Catalogue) -> None:
    # a patient may take it for a side
    for word in catalogue.plain.values():
        assert "right" not in word.text["en"].split(), word
        assert "left" not in word.text["en"].split(), word


def test_the_danger_signs_cannot_be_edited_away(catalogue: Catalogue) -> None:
    for name in ("to", "urgent", "unresolved", "cautions", "unanswered", "leaflet-held"):
        assert catalogue.blocks[name].kept, name
    for block in catalogue.blocks.values():
        assert (
            block.kept
            or not {"held", "danger", "caution"} & set(block.facts)
            or (block.id in {"complaint", "see"})
        ), block.id
