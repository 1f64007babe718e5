"""Ten kills of a writing process lose nothing acknowledged; two hundred: bench_kill.py."""

from pathlib import Path

from tests.store.kills import kill_often


def test_ten_kills_lose_nothing(tmp_path: Path) -> None:
    done = kill_often(tmp_path / "store", 10, seed=3)
    assert done.kills == 10
    assert len(done.acknowledged) > 50
    # what was written but not yet acknowledged when the kill came may be there as well
    assert 0 <= done.entries - len(done.acknowledged) <= 10 * 6
