"""The cache: the same catalogue faster, never a wrong one, never in the way."""

import json
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from footexam.catalogue import cache, load
from footexam.catalogue.load import load_catalogue
from footexam.catalogue.mistakes import BadForms
from tests.catalogue.small import FORMS, with_mistake, write_forms


@pytest.fixture
def forms(tmp_path: Path) -> Path:
    return write_forms(tmp_path / "forms")


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    return tmp_path / "deep" / "cache"


def never(*_: object) -> None:
    raise AssertionError("the files were parsed")


def test_a_cached_catalogue_is_the_same_to_the_digit(
    forms: Path, kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = load_catalogue(forms, kept)
    assert len(list(kept.iterdir())) == 1
    monkeypatch.setattr(load, "_parse", never)
    again = load_catalogue(forms, kept)
    assert again == first
    assert repr(again) == repr(first)
    assert str(again.measures["bend"].hard_high) == "60.50"


def test_the_forms_as_shipped_are_the_same_from_the_cache(kept: Path) -> None:
    fresh = load_catalogue()
    load_catalogue(cache_dir=kept)
    assert repr(load_catalogue(cache_dir=kept)) == repr(fresh)


@pytest.mark.parametrize(
    "change",
    [
        with_mistake("words.toml", '"stiff"', '"rigid"'),
        {"panels/3-more.toml": FORMS["panels/2-moving.toml"].replace("moving", "m").replace(
            "days-out", "d")},
    ],
)  # fmt: skip
def test_a_change_of_forms_is_seen_at_once(forms: Path, kept: Path, change: dict[str, str]) -> None:
    before = load_catalogue(forms, kept)
    old = set(kept.iterdir())
    write_forms(forms, change)
    after = load_catalogue(forms, kept)
    assert after != before
    assert after == load_catalogue(forms)
    assert not old & set(kept.iterdir())  # what is old is cleared away


@pytest.mark.parametrize(
    "spoil",
    [
        lambda data: data[:0],
        lambda data: data[:-1],
        lambda data: data.replace(b"Bend", b"Lend", 1),
        lambda data: b"0" * 64 + data[64:],
        lambda data: data[65:],
        lambda data: b"\xff" + data,
    ],
)
def test_a_damaged_cache_is_not_believed(
    forms: Path, kept: Path, spoil: Callable[[bytes], bytes]
) -> None:
    fresh = load_catalogue(forms, kept)
    (file,) = kept.iterdir()
    file.write_bytes(spoil(file.read_bytes()))
    assert load_catalogue(forms, kept) == fresh
    assert load_catalogue(forms, kept) == fresh


def test_forms_with_a_mistake_are_never_cached(forms: Path, kept: Path) -> None:
    write_forms(forms, with_mistake("words.toml", '"stiff"', "5"))
    for _ in range(2):
        with pytest.raises(BadForms):
            load_catalogue(forms, kept)
    assert not kept.exists()


def test_a_cache_that_cannot_be_written_is_done_without(forms: Path, tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    assert load_catalogue(forms, blocked).measures
    assert load_catalogue(forms, blocked / "cache").measures
    assert blocked.read_text() == "in the way"


def test_a_full_disk_leaves_nothing_behind(
    forms: Path, kept: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(path: Path, _: bytes) -> int:
        path.touch()
        raise OSError(28, "No space left on device")

    with monkeypatch.context() as patch:
        patch.setattr(Path, "write_bytes", full)
        assert load_catalogue(forms, kept).measures
    assert list(kept.iterdir()) == []


def test_the_cache_is_plain_json_named_by_the_hash(forms: Path, kept: Path) -> None:
    load_catalogue(forms, kept)
    (file,) = kept.iterdir()
    texts = {name: text.encode() for name, text in sorted(FORMS.items())}
    assert file.name == f"forms-{cache.digest(texts)[:32]}.json"
    body = file.read_bytes().partition(b"\n")[2]
    assert json.loads(body).keys() == FORMS.keys()


def test_the_hash_depends_on_names_bytes_and_the_reading_program(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    texts = [{"a": b"bc"}, {"ab": b"c"}, {"a": b"b", "c": b""}, {"a": b"cb"}, {}]
    digests = {cache.digest(each) for each in texts}
    assert len(digests) == len(texts)
    monkeypatch.setattr(cache, "__version__", "99")
    assert not digests & {cache.digest(each) for each in texts}


trees = st.dictionaries(
    st.text(max_size=5),
    st.recursive(
        st.booleans()
        | st.integers()
        | st.text(st.characters(exclude_characters="\0", codec="utf-8"))
        | st.decimals(allow_nan=False, allow_infinity=False).map(
            lambda number: number if number.as_tuple().exponent else Decimal(f"{number}.0")
        ),
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(), inner, max_size=3),
        max_leaves=6,
    ),
    max_size=4,
)


@given(trees)
def test_any_tree_is_kept_to_the_digit(
    tmp_path_factory: pytest.TempPathFactory, tree: dict[str, object]
) -> None:
    folder = tmp_path_factory.getbasetemp() / "trees"
    cache.save(folder, "k", tree)
    assert repr(cache.load(folder, "k")) == repr(tree)
