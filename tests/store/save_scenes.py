"""What is saved while the kernel is tampered with: a stage, the act, and a look at it afterwards.

`begin` and `act` run in a child that may die in the act; `found` looks from outside, as the next
start of the program does: the file, the folder, the journal, the restore points, one more save.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
from pathlib import Path
from typing import Any, ClassVar

from rigtui.cli import main
from rigtui.model import Rig
from rigtui.model.errors import RigError
from rigtui.store.load import load
from rigtui.store.recovery import Journal, forget, recovered
from rigtui.store.save import rig_text, save
from rigtui.store.starter import starter_text
from rigtui.store.versions import keep, versions
from rigtui.tui.app import RigApp
from rigtui.tui.document import Document
from rigtui.tui.files import save_to
from rigtui.tui.keeping import Keeper

SECOND = re.compile(r"\..+\.[0-9a-f]{16}\.tmp")
OLD = starter_text()


def renamed(rig: Rig, name: str) -> Rig:
    """The rig with another name."""
    return rig.model_copy(update={"name": name})


class Quiet(RigApp):
    """The program without a screen: what it would say and ask is noted."""

    def __init__(self, told: dict[str, Any]) -> None:
        super().__init__()
        self.told = told

    def say(self, text: str, severity: Any = "information", seconds: float = 4) -> None:
        """Note what is said."""
        self.told.setdefault("said", []).append(text)

    def push_screen(self, screen: Any, *_: Any, **__: Any) -> Any:
        """Note what is asked; nobody answers."""
        self.told.setdefault("asked", []).append(screen._question)

    def set_interval(self, *_: Any, **__: Any) -> Any:
        """No clock runs here."""


class Scene:
    """A save of a file that is there, with the edit in the journal; other scenes differ from it."""

    landed: ClassVar[tuple[str, ...]] = (OLD,)
    """Texts that must be among the restore points once the new text is in the file."""

    def __init__(self, home: Path) -> None:
        """Set the stage."""
        self.home, self.told = home, dict[str, Any]()
        self.rigs = home / "rigs"
        self.rigs.mkdir(parents=True)
        os.environ["XDG_STATE_HOME"] = str(home / "state")
        self.file = self.path = self.rigs / "rig.toml"
        self.before: str | None = OLD
        self.file.write_bytes(OLD.encode())
        self.source, rig = load(self.file)
        self.rig = renamed(rig, "Edited")
        self.after = rig_text(self.rig, self.source).text
        self.stage()

    def stage(self) -> None:
        """Make what is particular to the scene."""

    def begin(self) -> None:
        """Open the file, edit it, have the edit in the journal."""
        self._open(Document(load(self.path)[1], self.path, load(self.path)[0]))
        self.app.document.apply("rename", lambda rig: renamed(rig, "Edited"))
        assert self.app.keeper._write_at_once()

    def _open(self, document: Document) -> None:
        self.app: Any = Quiet(self.told)
        self.app.document = document
        self.app.keeper = Keeper(self.app)
        self.app.keeper.begin(document.path)

    def act(self) -> None:
        """Save."""
        save_to(self.app, None)

    def finish(self) -> None:
        """Report what a child that lives knows."""
        self.unlock()
        self.told["dirty"] = self.app.document.dirty
        if self.app.document.dirty and self.app.document.rig != self.rig:
            self.told["raised"] = "the edit is gone"

    def unlock(self) -> None:
        """Let go of the journal, as the end of the process does."""
        if self.app.keeper._journal is not None:
            self.app.keeper._journal._lock.release()

    # From outside

    def found(self) -> dict[str, Any]:
        """What is there, and everything that is wrong with it."""
        text = self.file.read_bytes().decode() if self.file.exists() else None
        content = {self.before: "old", self.after: "new"}.get(text, "torn")
        names = sorted(os.listdir(self.rigs))
        strays = [name for name in names if SECOND.fullmatch(name)]
        faults = [f"a file {name}" for name in {*names} - {*strays, *self.others()}]
        if content == "torn":
            faults.append("the file is neither as before nor as saved")
        faults += self.kept_faults(content)
        with contextlib.suppress(OSError):
            state = self.home / "state"
            strays += [file.name for file in state.rglob("*") if SECOND.fullmatch(file.name)]
        try:
            self.start_again(content)
        except (RigError, OSError, AssertionError) as error:
            faults.append(f"the next start fails: {error!r}")
        seen = {"content": content, "strays": strays, "faults": faults}
        return {**seen, "journal": self.told.get("in the journal")}

    def others(self) -> set[str]:
        """What may stand in the folder."""
        return {self.file.name}

    def kept_faults(self, content: str) -> list[str]:
        """What is wrong with the journal and the restore points."""
        faults = []
        left = [edits.rig for edits in recovered(self.journal_path())]
        if content == "old" and self.rig not in left:
            faults.append("the edit is neither in the file nor in the journal")
        if any(rig != self.rig for rig in left):
            faults.append("the journal holds something else")
        texts = [version.text for version in versions(self.path)]
        if {*texts} - {OLD, self.before, self.after, *self.landed}:
            faults.append("a restore point that was never a file")
        if content == "new":
            faults += [
                "what was there is kept nowhere" for text in self.landed if text not in texts
            ]
        return faults

    def journal_path(self) -> Path | None:
        """The file that the journal is about."""
        return self.path

    def start_again(self, content: str) -> None:
        """The next start: open, take what a crash left, save, leave."""
        if content == "old" and self.before is None:
            return
        source, rig = load(self.path)
        journal = Journal(self.path)
        for edits in recovered(self.path):
            if edits.rig != rig:
                rig = edits.rig
                journal.write(rig, source)
            forget(edits)
        after, _ = save(renamed(rig, "After the crash"), self.path, source)
        keep(self.path, after.text)
        journal.close()
        assert load(self.path)[1].name == "After the crash"
        assert recovered(self.path) == []


class Linked(Scene):
    """A save through a symbolic link."""

    def stage(self) -> None:
        """The file is named by a link in another folder."""
        self.path = self.home / "link.toml"
        self.path.symlink_to("rigs/rig.toml")

    def found(self) -> dict[str, Any]:
        """The link is as it was, too."""
        linked = self.path.is_symlink() and os.readlink(self.path) == "rigs/rig.toml"
        seen = super().found()
        return seen if linked else {**seen, "faults": [*seen["faults"], "the link is gone"]}


class New(Scene):
    """The first save of a rig that has no file yet."""

    landed = ()

    def stage(self) -> None:
        """Nothing is there."""
        self.file.unlink()
        self.before, self.after = None, rig_text(self.rig, None).text

    def begin(self) -> None:
        """A new rig, which the journal of no file keeps."""
        self._open(Document(self.rig, None, None))
        assert self.app.keeper._write_at_once()

    def act(self) -> None:
        """Save as."""
        save_to(self.app, self.path)

    def journal_path(self) -> Path | None:
        """No file."""
        return None


class Full(Scene):
    """A save where the restore points are at their limit, so that the oldest goes."""

    def stage(self) -> None:
        """Twenty earlier versions."""
        self.earlier = [OLD + f"# version {number}\n" for number in range(20)]
        for text in self.earlier:
            keep(self.path, text)

    def kept_faults(self, content: str) -> list[str]:
        """The latest of them stay, in their order, the old text after them."""
        texts = [version.text for version in reversed(versions(self.path))]
        ours = [text for text in texts if text in self.earlier]
        faults = []
        if ours != self.earlier[-len(ours) :] or len(ours) < 18:
            faults.append("other restore points are gone than the oldest")
        wanted = [OLD, self.after] if content == "new" else [OLD]
        rest = texts[len(ours) :]
        if rest != wanted[: len(rest)] or (content == "new" and not rest):
            faults.append("restore points out of order")
        if content == "old" and self.rig not in [edits.rig for edits in recovered(self.path)]:
            faults.append("the edit is neither in the file nor in the journal")
        return faults


class Over(Scene):
    """The player has said to write over what another program wrote."""

    landed = (OLD + "# theirs\n",)

    def begin(self) -> None:
        """Another program is quicker than the save."""
        super().begin()
        self.file.write_bytes(self.landed[0].encode())

    def stage(self) -> None:
        """What was there is theirs, once the child has begun."""
        self.before = self.landed[0]

    def act(self) -> None:
        """Save over it."""
        save_to(self.app, None, overwrite=True)


class Commanded(Scene):
    """A command of the command line that writes a file."""

    words: tuple[str, ...] = ()

    def begin(self) -> None:
        """Nothing is open."""

    def act(self) -> None:
        """Run the command."""
        out, err = io.StringIO(), io.StringIO()
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            self.told["exit"] = main(self.words)
        self.told["said"] = [err.getvalue() or out.getvalue()]

    def finish(self) -> None:
        """The exit status says it all."""
        self.told["dirty"] = self.told.get("exit") != 0

    def kept_faults(self, content: str) -> list[str]:
        """Nothing is kept of these."""
        return []


class PutBack(Commanded):
    """`rigtui restore` puts an earlier version back."""

    def stage(self) -> None:
        """A version that was saved earlier."""
        keep(self.path, self.after)
        self.words = ("restore", str(self.path), "1")

    def kept_faults(self, content: str) -> list[str]:
        """What the file held is kept, and the version still is."""
        texts = [version.text for version in versions(self.path)]
        if self.after not in texts or (content == "new" and OLD not in texts):
            return ["a version is gone"]
        return []


class Starter(Commanded):
    """`rigtui new` writes a file that was not there."""

    def stage(self) -> None:
        """Nothing is there."""
        self.file.unlink()
        self.before, self.after = None, OLD
        self.words = ("new", str(self.path))


class Sheet(Commanded):
    """`rigtui sheet` replaces a sheet of yesterday."""

    after_text: ClassVar[str | None] = None

    def stage(self) -> None:
        """An old sheet beside the rig; the rig itself is only read."""
        self.rig_file = self.rigs / "board.toml"
        self.file.rename(self.rig_file)
        self.file = self.rigs / "stage.md"
        self.before = "# Yesterday\n"
        self.words = ("sheet", "program", str(self.rig_file), "-o", str(self.file), "--force")
        if Sheet.after_text is None:
            with contextlib.redirect_stdout(io.StringIO()):
                assert main(self.words) == 0
            Sheet.after_text = self.file.read_bytes().decode()
        self.after = Sheet.after_text
        self.file.write_text(self.before)

    def others(self) -> set[str]:
        """The rig and the sheet."""
        return {self.rig_file.name, self.file.name}

    def start_again(self, content: str) -> None:
        """The rig is as it was, and the sheet can be written."""
        assert self.rig_file.read_bytes().decode() == OLD
        with contextlib.redirect_stdout(io.StringIO()):
            assert main(self.words) == 0


class Journaled(Scene):
    """A second edit goes into the journal over the first one; the file is not touched."""

    def begin(self) -> None:
        """The first edit is in the journal."""
        super().begin()
        self.app.document.apply("rename", lambda rig: renamed(rig, "Edited twice"))

    def act(self) -> None:
        """Write the journal."""
        self.app.keeper._write_at_once()

    def finish(self) -> None:
        """The document is unsaved either way."""
        self.unlock()
        self.told["dirty"] = self.app.document.dirty

    def kept_faults(self, content: str) -> list[str]:
        """One edit or the other, and the file as it was."""
        left = [edits.rig.name for edits in recovered(self.path)]
        self.told["in the journal"] = left
        return [] if left in (["Edited"], ["Edited twice"]) else [f"the journal holds {left}"]


SCENES: dict[str, type[Scene]] = {
    "save": Scene, "save through a link": Linked, "first save": New, "save with 20 kept": Full,
    "save over another's": Over, "journal": Journaled, "restore": PutBack, "new": Starter,
    "sheet": Sheet,
}  # fmt: skip
