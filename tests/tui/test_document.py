"""The document: whose comments a save keeps."""

from __future__ import annotations

from pathlib import Path

from rigs_made import make_data, preset, switcher

from rigtui.model.edits import set_preset
from rigtui.store.load import load
from rigtui.store.toml_write import dump
from rigtui.tui.document import Document


def test_a_version_gone_back_to_lends_its_comments_to_one_save_only(tmp_path: Path) -> None:
    """What another program writes after that save is kept by the next one, not written over."""
    path = tmp_path / "rig.toml"
    plain = dump(make_data(switcher=switcher(), presets=[preset("one", memory=1)]))
    earlier = tmp_path / "earlier.toml"
    earlier.write_text(f"# as it was in spring\n{plain}", encoding="utf-8")
    path.write_text(plain.replace('id = "one"', 'id = "one"\nname = "New"'), encoding="utf-8")
    source, rig = load(path)
    document = Document(rig, path, source)
    before, spring = load(earlier)
    document.adopt("go back", spring, before)
    document.save()
    assert path.read_text(encoding="utf-8").startswith("# as it was in spring\n")

    path.write_text(f"# with new strings\n{plain}", encoding="utf-8")
    document.source, document.saved = load(path)
    document.apply("rename", lambda rig: set_preset(rig, "one", name="Warm"))
    document.save()
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# with new strings\n")
    assert 'name = "Warm"' in text
