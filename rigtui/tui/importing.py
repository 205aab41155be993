"""Import songs from another file or a pasted list: ask for what it leaves open, then add them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from rigtui.model.text import count, visible
from rigtui.tui.typed_path import typed_path
from rigtui.tui.widgets.dialogs import Field, Form

if TYPE_CHECKING:
    from rigtui.model.rig import Rig
    from rigtui.store.importing.answers import FilledDraft
    from rigtui.store.importing.draft import Draft
    from rigtui.store.importing.into import Slot
    from rigtui.store.importing.questions import Answer, OpenQuestion
    from rigtui.tui.document_app import DocumentApp

MOST_QUESTIONS = 60
"""More than this is no form but a day's work: the command line takes answers for many at once."""


class Questions(Form):
    """A form whose labels are sentences rather than words."""

    CSS = "Questions .dialog { width: 100; }"
    MOST_OF_LABEL = 38

    def _ways(self) -> list[tuple[str, str]]:
        """As of any form, but Esc goes back to the form before."""
        back = ("leave", "Esc back   ")
        return [back if way[0] == "leave" else way for way in super()._ways()]


Edit = Callable[["Rig"], "Rig"]


@dataclass(frozen=True)
class Import:
    """Songs on their way into the rig at hand."""

    app: DocumentApp
    draft: Draft
    apply: Callable[[str, Edit], None]
    """Does the edit, as one step of undo."""
    slot: Slot | None = None
    """Where in an evening they are to be played."""
    back: Callable[[], None] = lambda: None
    """Goes back to the form that they come from, with all that was typed there."""

    @property
    def rig(self) -> Rig:
        """The rig at hand."""
        assert self.app.document is not None
        return self.app.document.rig

    @property
    def what(self) -> str:
        """What comes in, in words."""
        songs = self.draft.songs
        return visible(songs[0].name) if len(songs) == 1 else count(len(songs), "song")


def import_commands(app: DocumentApp) -> Iterator[tuple[str, Callable[[], None]]]:
    """What the palette offers: words, and what they do."""
    if app.document is not None:
        yield "Import songs from a file", lambda: ask_file(app)


def ask_file(app: DocumentApp, path: str = "") -> None:
    """Ask for the file, then for what it does not say, then put its songs into the rig."""
    read: list[Import] = []

    def submit(given: dict[str, str]) -> str | None:
        from rigtui.model.errors import RigError
        from rigtui.store.importing.sources import read_source

        try:
            draft = read_source(typed_path(given["path"]))
        except RigError as error:
            return str(error).partition("\n")[0]
        read[:] = [Import(app, draft, app.apply, back=lambda: ask_file(app, given["path"]))]
        return None

    def then(accepted: bool | None) -> None:
        if accepted:
            ask_open(read[0], [])

    hint = "evening.txt, low-fen.cho, take-3.mid, songs.csv, other.toml"
    form = Form(
        "Import songs",
        [Field("path", "File", path, hint=hint)],
        submit,
        note="A plain list, ChordPro, MIDI, CSV or another rig. You are then asked for "
        "what it doesn't say.",
    )
    app.ask(form, then)


def ask_open(job: Import, answers: list[Answer], same: str | None = None) -> None:
    """Ask for everything that is open; where nothing is, do it."""
    from rigtui.model.errors import RigError
    from rigtui.store.importing.answers import fill

    try:
        filled = fill(job.draft, answers, job.rig, same, strict=False)
    except RigError as error:
        job.app.say(str(error), "error")
        job.back()
        return
    if not filled.questions:
        _put_in(job, filled)
    elif len(filled.questions) > MOST_QUESTIONS:
        job.app.say(
            f"{len(filled.questions)} answers are missing, too many for a form: in a "
            "shell, `rigtui import --help` shows how one answer can cover many",
            seconds=12,
        )
        job.back()
    else:
        _ask(job, answers, same, filled.questions)


def _ask(
    job: Import, answers: list[Answer], same: str | None, questions: Sequence[OpenQuestion]
) -> None:
    rig = job.rig
    settled = answers, same

    def submit(given: dict[str, str]) -> str | None:
        from rigtui.store.importing.draft import ImportFault

        nonlocal settled
        try:
            settled = _answered(job.draft, answers, same, questions, given, rig)
        except ImportFault as fault:
            return str(fault).partition("\n")[0]
        return None

    def then(accepted: bool | None) -> None:
        if accepted:
            # An answer can raise a question: where the meter is known, the beat may be asked.
            ask_open(job, *settled)
        else:
            job.back()

    songs = job.draft.songs
    # With one song, its title before every question would only take the room.
    prefix = f"{visible(songs[0].name)}, " if len(songs) == 1 else ""
    fields = [_field(f"q{at}", question, rig, prefix) for at, question in enumerate(questions)]
    source = "list" if job.draft.kind == "list" else "file"
    note = f"The {source} doesn't say {count(len(fields), 'thing')}."
    if any(question.what == "bars" for question in questions):
        note += " 0 bars leave a section out."
    job.app.ask(Questions(f"Import {job.what}", fields, submit, note=note), then)


_HINTS = {
    "bars": "such as 8",
    "tempo": "beats per minute",
    "meter": "such as 4/4",
    "beat": "quarter, eighth, dotted quarter",
}


def _field(key: str, question: OpenQuestion, rig: Rig, prefix: str) -> Field:
    times = f" ({question.times} times)" if question.times > 1 else ""
    mark = "?" if question.what == "beat" else ""
    label = f"{question.words.removeprefix(prefix)}{mark}{times}"
    if question.what == "map":
        presets = [(preset.id, preset.label) for preset in rig.presets]
        choices = (("", "choose"), ("-", "leave unmapped"), *presets)
        return Field(key, label, question.hint, choices=choices)
    if question.what == "same":
        choices = (("", "choose"), ("replace", "replace"), ("add", "add"), ("skip", "skip"))
        return Field(key, label, choices=choices)
    return Field(key, label, question.hint, hint=_HINTS[question.what])


def _answered(
    draft: Draft,
    answers: list[Answer],
    same: str | None,
    questions: Sequence[OpenQuestion],
    given: dict[str, str],
    rig: Rig,
) -> tuple[list[Answer], str | None]:
    """Put the answers of a form to those given before.

    Raises:
        ImportFault: an answer cannot be, or one is missing.
    """
    from rigtui.store.importing.answers import fill
    from rigtui.store.importing.draft import ImportFault
    from rigtui.store.importing.questions import checked

    new = list(answers)
    for at, question in enumerate(questions):
        value = given[f"q{at}"].strip()
        if not value:
            continue
        try:
            checked(question.what, value, rig)
        except ImportFault as fault:
            raise ImportFault(f"{question.words}: {fault}") from None
        if question.what == "same":
            same = value
        else:
            new.append(question.answer(value))
    asked = {(question.what, question.song, question.name) for question in questions}
    for question in fill(draft, new, rig, same, strict=False).questions:
        if (question.what, question.song, question.name) in asked:
            raise ImportFault(f"not answered: {question.words}")
    return new, same


def _put_in(job: Import, filled: FilledDraft) -> None:
    from rigtui.model.errors import RigError
    from rigtui.moves.clock import song_seconds
    from rigtui.store.importing.into import put_in

    try:
        _, lines = put_in(job.rig, filled, job.slot, song_seconds)
    except RigError as error:
        job.app.say(str(error), "error", seconds=12)
        job.back()
        return
    label = f"import {count(len(filled.draft.songs), 'song')}"
    job.apply(label, lambda rig: put_in(rig, filled, job.slot)[0])
    shown = [*lines[:3], *filled.draft.notes[:3]]
    more = len(lines) + len(filled.draft.notes) - len(shown)
    job.app.say("; ".join(shown) + (f"; and {more} more" if more else ""), seconds=12)
