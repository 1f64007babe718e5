"""Where two lists differ: what is put in the place of what makes way gives the new list."""

from hypothesis import given
from hypothesis import strategies as st

from footexam.desktop.changed import changed_part

LISTS = st.lists(st.integers(0, 3), max_size=8)


@given(LISTS, LISTS)
def test_the_new_part_in_the_place_of_the_old_gives_the_new_list(
    old: list[int], new: list[int]
) -> None:
    gone, come = changed_part(old, new)
    assert [*old[: gone.start], *new[come], *old[gone.stop :]] == new
    assert gone.start == come.start
    if old == new:
        assert (old[gone], new[come]) == ([], [])


def test_only_what_differs_makes_way() -> None:
    gone, come = changed_part(list("abcxyde"), list("abcde"))
    assert (gone, come) == (slice(3, 5), slice(3, 3))
    gone, come = changed_part(list("aa"), list("aaa"))
    assert (gone, come) == (slice(2, 2), slice(2, 3))
