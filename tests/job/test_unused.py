"""The table of keys that nothing reads yet: every entry is a key, and is found where it is written."""

from elevation.job.keys import every_key
from elevation.job.unused import UNUSED, unused_notes


def test_every_entry_is_a_key_of_the_job_file():
    known = set(every_key())
    for entry in UNUSED:
        assert entry.replace(".*", "") in known, entry
    assert len(set(UNUSED)) == len(UNUSED)


def test_a_written_key_gives_its_path_and_a_missing_one_nothing(monkeypatch):
    monkeypatch.setattr("elevation.job.unused.UNUSED", ("wall.niche.lap", "tile.*.weight", "room.bed"))
    data = {
        "wall": [{"niche": [{}, {"lap": "wall"}]}, {}, {"niche": [{"lap": "return"}]}],
        "tile": {"a": {"weight": 1}, "b": {}},
    }
    found = [note.where for note in unused_notes(data)]
    assert found == ["wall[1].niche[2].lap", "wall[3].niche[1].lap", "tile.a.weight"]
