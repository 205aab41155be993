"""What to give up: the frontier as a table and a plot, worked out beside the screen."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static

from rigtui.model.text import number_text
from rigtui.tui.adviser import Adviser
from rigtui.tui.text import fit, plain
from rigtui.tui.views.plan.give_up_rows import columns, point_row, point_words
from rigtui.tui.widgets.grid import Grid
from rigtui.tui.widgets.overlay import Overlay
from rigtui.tui.widgets.reading import Reading

if TYPE_CHECKING:
    from rigtui.advice.giving_up.told import ToldFrontier, ToldPoint
    from rigtui.model.rig import Rig
    from rigtui.plan.ask.question import Question

_WIDEST = 118
_FRAME = 4
BACK = "give back"
"""The answer that asks for the sounds that were given up before."""


class GiveUp(Overlay["ToldPoint | str | None"]):
    """The answer is the point that the player accepts, `BACK`, or nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q", "leave", "Back", show=False),
        Binding("y", "accept", "Accept", show=False),
        Binding("enter,space", "look", "Section by section", show=False),
        Binding("m", "boards", "Pedals may move", show=False),
        Binding("b", "give_back", "Give sounds back", show=False),
        Binding("i", "read", "Read in full", show=False),
    ]
    DEFAULT_CSS = """
    GiveUp { align: center middle; background: $background 60%; }
    GiveUp > Vertical {
        width: 118; max-width: 100%; height: 96%; padding: 0 1; background: $surface;
        border: round $primary;
    }
    GiveUp #give-up-title { text-style: bold; height: 1; }
    GiveUp #give-up-head { height: auto; }
    GiveUp Grid { height: 9; }
    GiveUp #give-up-words { height: 1fr; border-top: solid $panel-lighten-1; }
    GiveUp .dialog--keys { padding-top: 0; }
    """

    def __init__(self, rig: Rig, question: Question) -> None:
        """Take the rig, and the options of the plan: setlists, presets that stay, the time."""
        super().__init__()
        self._rig, self._question = rig, question
        self._boards = False
        self._adviser: Adviser | None = None
        self._frontier: ToldFrontier | None = None
        self._fault = ""

    def compose(self) -> ComposeResult:
        """Title, what was proved, the table, the row at hand in sentences, the keys."""
        with Vertical():
            yield Static("", id="give-up-title", markup=False)
            yield Static("", id="give-up-head", markup=False)
            yield Grid(id="give-up-rows")
            yield Static("", id="give-up-words", markup=False)
            yield Static("", id="give-up-keys", classes="dialog--keys", markup=False)

    @property
    def _grid(self) -> Grid:
        return self.query_one(Grid)

    @property
    def point(self) -> ToldPoint | None:
        """The row under the cursor."""
        points = self._frontier.points if self._frontier is not None else ()
        at = self._grid.cursor_row
        return points[at] if at < len(points) else None

    def on_mount(self) -> None:
        """Work it out."""
        self._grid.focus()
        self._ask()

    def on_unmount(self) -> None:
        """Leave no adviser behind."""
        if self._adviser is not None:
            self._adviser.kill()

    def on_resize(self) -> None:
        """Use the room that there is."""
        self._draw()

    def _ask(self) -> None:
        from rigtui.advice.giving_up.told import frontier_of
        from rigtui.advice.wire import give_up_task

        if self._adviser is not None:
            self._adviser.kill()
        rig, asked = self._rig, self._question
        keep = tuple(preset.id for preset in rig.presets if preset.id in asked.keep)
        task = partial(give_up_task, rig, asked.setlists, keep, asked.seconds, boards=self._boards)
        self._adviser = Adviser(task, lambda data: frontier_of(data["give-up"], rig))
        self._frontier, self._fault = None, ""
        self.run_worker(self._hear(self._adviser), group="give-up", exclusive=True)
        self._draw()

    async def _hear(self, adviser: Adviser) -> None:
        answer = await adviser.answer()
        if self._adviser is not adviser:
            return
        self._adviser = None
        if isinstance(answer, str):
            self._fault = answer
        else:
            self._frontier = answer
        self._draw()
        self._grid.move_to(self._likeliest())

    def _likeliest(self) -> int:
        """The first row on which all can be played that can: what is asked for most."""
        points = self._frontier.points if self._frontier is not None else ()
        least = min((point.counted.unplayable for point in points), default=0)
        return next((at for at, row in enumerate(points) if row.counted.unplayable == least), 0)

    def _draw(self) -> None:
        frontier, width = self._frontier, min(_WIDEST, self.app.size.width) - _FRAME
        whom = f", {frontier.whom}" if frontier is not None else ""
        self.query_one("#give-up-title", Static).update(fit(f"What to give up{whom}", width))
        lines = (
            list(frontier.lines[1:]) if frontier is not None else [self._fault or self._working()]
        )
        kept = sum(preset.id in self._question.keep for preset in self._rig.presets)
        if kept:
            lines.append(f"{kept} of the presets stay as they are, as the options say")
        self.query_one("#give-up-head", Static).update(Content("\n").join(map(plain, lines)))
        points = frontier.points if frontier is not None else ()
        self._grid.show(columns(width), [point_row(points, at, width) for at in range(len(points))])
        may = "stay" if self._boards else "may move"
        self.query_one("#give-up-keys", Static).update(
            f"y accept  Enter by section  m pedals {may}  b sounds back  i all of it  Esc"
        )
        self._tell()

    def _working(self) -> str:
        seconds = self._question.seconds
        most = "" if seconds is None else f", at most {number_text(seconds)} s"
        boards = ", on other boards too" if self._boards else ""
        return f"Trying which sounds to keep{boards}{most} ..."

    def on_grid_cursor_moved(self) -> None:
        """Tell of the row under the cursor."""
        self._tell()

    def on_grid_cell_clicked(self) -> None:
        """A click on the cursor shows it section by section."""
        self.action_look()

    def _tell(self) -> None:
        point = self.point
        lines = point_words(point) if point is not None else []
        self.query_one("#give-up-words", Static).update(Content("\n").join(map(plain, lines)))

    def action_read(self) -> None:
        """Read in full what the row asks for."""
        if self.point is not None:
            self.app.push_screen(Reading([plain(line) for line in point_words(self.point)]))

    def action_boards(self) -> None:
        """Try other boards too, or this one alone again."""
        self._boards = not self._boards
        self._ask()

    def action_look(self) -> None:
        """Show the row section by section; y there accepts it too."""
        from rigtui.tui.views.plan.give_up_rows import as_remedy
        from rigtui.tui.views.report.remedy_preview import RemedyPreview

        point, frontier = self.point, self._frontier
        if point is None or frontier is None:
            return

        def answered(answer: str | None) -> None:
            if answer == "y":
                self.dismiss(point)
            elif answer:
                self.dismiss(answer)

        remedy = as_remedy(self._rig, frontier.before, point)
        self.app.push_screen(RemedyPreview(self._rig, remedy), answered)

    def action_accept(self) -> None:
        """Take the row."""
        if self.point is not None:
            self.dismiss(self.point)

    def action_give_back(self) -> None:
        """Have every section sound as it wants again."""
        self.dismiss(BACK)

    def action_leave(self) -> None:
        """Take nothing."""
        self.dismiss(None)
