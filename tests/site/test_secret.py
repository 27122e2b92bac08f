"""The secret key: made once, kept, and nobody else's to read."""

import os
import stat
from concurrent.futures import ThreadPoolExecutor

import pytest

from nursery.site import secret
from nursery.site.env import BadSetting
from nursery.site.secret import secret_key
from tests.site.processes import manage


def test_it_works(tmp_path):
    folder = tmp_path / "deep" / "data"
    key = secret_key(folder)
    assert len(key) == 64
    assert secret_key(folder) == key
    assert [p.name for p in folder.iterdir()] == ["secret_key"]


def test_only_its_owner_may_read_it_whatever_the_umask(tmp_path):
    before = os.umask(0)
    try:
        secret_key(tmp_path / "data")
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "data/secret_key").stat().st_mode) == 0o600
    assert stat.S_IMODE((tmp_path / "data").stat().st_mode) == 0o700


def test_two_nurseries_have_two_keys(tmp_path):
    assert secret_key(tmp_path / "a") != secret_key(tmp_path / "b")


def test_another_process_that_was_faster_wins(tmp_path):
    """The race put in by hand: the key appears after we looked and before we make ours."""
    file = tmp_path / "secret_key"
    file.write_text("theirs\n")
    secret._make(file)
    assert secret_key(tmp_path) == "theirs"
    assert [p.name for p in tmp_path.iterdir()] == ["secret_key"]


def test_starts_at_once_agree(tmp_path):
    with ThreadPoolExecutor(4) as pool:
        keys = set(pool.map(lambda _: secret_key(tmp_path / "data"), range(8)))
    assert len(keys) == 1


@pytest.mark.parametrize(
    ("inside", "why"), [("file", "File exists"), ("file/data", "Not a directory"), ("n" * 300, "File name too long")]
)
def test_what_cannot_be_a_folder_is_refused_by_name_and_value(tmp_path, inside, why):
    (tmp_path / "file").touch()
    with pytest.raises(BadSetting) as refused:
        secret_key(tmp_path / inside)
    assert str(refused.value) == (
        f"Records cannot be kept in {tmp_path / inside} ({why}); "
        "set TEPAL_DATA to a folder that can be made and written in."
    )


def test_a_command_ends_in_that_sentence(tmp_path):
    (tmp_path / "file").touch()
    done = manage(tmp_path / "file", "round")
    assert (done.returncode, done.stderr) == (
        1,
        f"Records cannot be kept in {tmp_path / 'file'} (File exists); "
        "set TEPAL_DATA to a folder that can be made and written in.\n",
    )
