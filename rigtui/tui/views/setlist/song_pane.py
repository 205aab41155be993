"""The right pane: one song, its sections down the side, presets across, moves between the rows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import Static

from rigtui.model.cells import wrap
from rigtui.tui.text import fit, plain
from rigtui.tui.views.base import LINES_AROUND
from rigtui.tui.views.setlist import many, section_edits
from rigtui.tui.views.setlist.pane_grid import PaneGrid
from rigtui.tui.views.setlist.panes import SectionsPane
from rigtui.tui.views.setlist.running_order import findings_by_song
from rigtui.tui.views.setlist.song_rows import SongRows, song_rows
from rigtui.tui.views.setlist.song_words import figures_line, section_lines, title_line
from rigtui.tui.views.setlist.ticks import ticks_line

if TYPE_CHECKING:
    from rigtui.checks import Finding
    from rigtui.model.rig import Preset, Rig, Song
    from rigtui.moves import Presses


_FOR_TICKED = (
    (("setlist.map",), "map"),
    (("setlist.map-by-name",), "by name"),
    (("setlist.pedal",), "pedal"),
    (("setlist.fill",), "fill"),
    (("setlist.section-up", "setlist.section-down"), "move"),
    (("setlist.more-bars", "setlist.fewer-bars"), "bars"),
    (("setlist.softer", "setlist.louder"), "volume"),
    (("setlist.duplicate-section",), "copy"),
    (("setlist.copy-sections",), "copy to paste elsewhere"),
    (("setlist.delete-section",), "delete"),
    (("setlist.untick-sections",), "untick"),
)
"""Keys that act on ticked sections, by their ids, and what they do."""


class SongPane(SectionsPane):
    """A song's sections, each mapped to a preset."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("space", "map", "Map", id="setlist.map"),
        Binding(
            "enter",
            "map_on",
            "Map and go down (space stays, and unmaps)",
            show=False,
            id="setlist.map-on",
        ),
        Binding("m", "map_by_name", "Map by name", id="setlist.map-by-name"),
        Binding("p", "pedal", "Pedal", id="setlist.pedal"),
        Binding("P", "pedal_again", "Step the same pedal here", show=False, id="setlist.again"),
        Binding("a", "add", "Add", id="setlist.add-section"),
        Binding("A", "add_several", "Add several sections", show=False, id="setlist.add-several"),
        Binding("w", "write_line", "Write", id="setlist.write-song"),
        Binding("M", "map_all", "Map all of this name", show=False, id="setlist.map-all"),
        Binding("L", "map_like", "Map like another song", show=False, id="setlist.map-like"),
        Binding("f", "fill", "Fill the mapping down", show=False, id="setlist.fill"),
        Binding(
            "t", "tick", "Tick, for keys that act on several", show=False, id="setlist.tick-section"
        ),
        Binding("c", "copy", "Copy to paste elsewhere", show=False, id="setlist.copy-sections"),
        Binding("v", "paste", "Paste sections", show=False, id="setlist.paste-sections"),
        Binding("escape", "untick", "Untick all", show=False, id="setlist.untick-sections"),
        Binding("e", "edit", "Edit", show=False, id="setlist.edit-section"),
        Binding("E", "early", "Switch a pedal early", show=False, id="setlist.early"),
        Binding("d", "duplicate", "Copy", show=False, id="setlist.duplicate-section"),
        Binding("x,delete", "delete", "Delete", show=False, id="setlist.delete-section"),
        Binding("shift+up,K", "shift(-1)", "Move up", show=False, id="setlist.section-up"),
        Binding("shift+down,J", "shift(1)", "Move down", show=False, id="setlist.section-down"),
        Binding("plus,equals_sign", "bars(1)", "A bar more", show=False, id="setlist.more-bars"),
        Binding("minus", "bars(-1)", "A bar less", show=False, id="setlist.fewer-bars"),
        Binding(
            "left_square_bracket",
            "volume(-1)",
            "Guitar volume down",
            show=False,
            id="setlist.softer",
        ),
        Binding(
            "right_square_bracket", "volume(1)", "Guitar volume up", show=False, id="setlist.louder"
        ),
    ]
    DEFAULT_CSS = """
    SongPane { width: 1fr; height: 1fr; }
    SongPane > Static { height: 1; padding: 0 1; }
    SongPane > .pane--title { text-style: bold; }
    SongPane.-here > .pane--title { text-style: bold reverse; }
    SongPane > .pane--figures { color: $text-muted; }
    SongPane > .pane--words {
        height: 5; background: $surface; border-top: solid $panel-lighten-1;
    }
    """

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._set_up: Presses | None = None
        self._marks: Mapping[str, str] = {}
        self._findings: Mapping[str, list[Finding]] = {}
        """What the rules found in each song, by its id."""
        self._laid_out: SongRows | None = None
        self._preset_id: str | None = None
        self._own_presets: frozenset[str | None] = frozenset()
        """Ids of the presets that the song had when it came on the screen: they stand first."""
        self._stood: dict[str, int] = {}

    def compose(self) -> ComposeResult:
        """Title and figures above, sections, and the section under the cursor in words."""
        yield Static("", classes="pane--title", markup=False)
        yield Static("", classes="pane--figures", markup=False)
        yield PaneGrid(id="sections")
        yield Static("", classes="pane--words", markup=False)

    @property
    def grid(self) -> PaneGrid:
        """The sections."""
        return self.query_one(PaneGrid)

    # Showing

    def show(self, rig: Rig, song: Song, set_up: Presses | None) -> None:
        """Show a song; while it is the same, the cursor stays in its section and on its preset."""
        wanted = self.stand_for(rig)
        before = self._state
        self._take_cursor()
        self.ticks.show(song.id, song.sections)
        if self.song is None or self.song.id != song.id:
            # Kept while the song is in sight, so that no column moves when a section is mapped.
            self._own_presets = frozenset(section.preset for section in song.sections)
            self.section_at = self._stood.get(song.id, 0)
            # On the section's preset, or the song's first: columns in use are never out of sight.
            here = song.sections[self.section_at : self.section_at + 1]
            self._preset_id = here[0].preset if here else None
        if wanted is not None:
            self.section_at = wanted
        self.rig, self.song, self._set_up = rig, song, set_up
        self._draw()
        if before != self._state:
            self.refresh_bindings()

    def stand(self, spot: int) -> None:
        """Put the cursor on a section (from 0)."""
        self._take_cursor()
        self.section_at = spot
        self._draw()

    def stand_on_preset(self) -> None:
        """Put the cursor on the preset that the section has, if it has one."""
        if self.section is not None and self.section.preset is not None:
            self._preset_id = self.section.preset
            self._draw()

    def take_findings(self, findings: tuple[Finding, ...], marks: Mapping[str, str]) -> None:
        """Show other findings."""
        self._take_cursor()
        self._findings, self._marks = findings_by_song(findings), marks
        self._draw()

    @property
    def _state(self) -> tuple[bool, bool, bool]:
        rig, song = self.rig, self.song
        return song is not None, bool(song and song.sections), bool(rig and rig.presets)

    def _draw(self) -> None:
        rig, song = self.rig, self.song
        if rig is None or song is None:
            return
        width = self.size.width or 54
        self.section_at = max(0, min(self.section_at, len(song.sections) - 1))
        laid_out = song_rows(
            rig, song, width, self._marks, self._set_up, self.ticked, self._own_presets
        )
        self._laid_out = laid_out
        ids = [preset.id for preset in laid_out.presets]
        column = None
        if ids:
            at = ids.index(self._preset_id) if self._preset_id in ids else 0
            column = laid_out.frozen + at
        self.grid.empty_text = (
            "No sections yet: press w to write them in one line, a for one at a time."
        )
        row = laid_out.section_rows[self.section_at] if song.sections else 0
        self.grid.set_foot(ticks_line(self, len(self.ticked), _FOR_TICKED, width))
        self.grid.show_at(laid_out.columns, laid_out.rows, row, column)
        if self.grid.search.active and self.grid.cursor_row in laid_out.section_rows:
            self.section_at = laid_out.section_rows.index(self.grid.cursor_row)
        self.set_heading(title_line(song, width >= 72), width - 2)
        figures = self.query_one(".pane--figures", Static)
        figures.update(Content(fit(figures_line(rig, song), width - 2)), layout=False)
        self._stood[song.id] = self.section_at
        self._preset_id = self.preset.id if self.preset else None
        self._describe()

    def _describe(self) -> None:
        words = self.query_one(".pane--words", Static)
        lines = self.lines()
        room = words.content_size
        needed = sum(max(1, len(wrap(line.plain, max(1, room.width)))) for line in lines)
        if lines and needed > room.height > 0:
            lines[0] += plain("  (i: all of it)")
        words.update(Content("\n").join(lines), layout=False)

    def lines(self) -> list[Content]:
        """The section under the cursor in words."""
        rig, song, section = self.rig, self.song, self.section
        if rig is None or song is None or section is None:
            return []
        findings = self._findings.get(song.id, ())
        lines = section_lines(rig, song, self.section_at, self.preset, findings)
        return [plain(line) for line in lines]

    def forget(self, song_id: str) -> None:
        """Begin at the first section the next time that a song is shown."""
        self._stood.pop(song_id, None)
        if self.song is not None and self.song.id == song_id:
            self.song = None

    def on_resize(self) -> None:
        """Use the room that there is."""
        wide = self.app.size.height >= 30 + LINES_AROUND
        self.query_one(".pane--words").styles.height = 9 if wide else 5
        self._take_cursor()
        self._draw()

    def on_grid_cursor_moved(self) -> None:
        """Tell of the section and the preset under the cursor."""
        self._take_cursor()
        self._describe()

    def _take_cursor(self) -> None:
        """Know where the cursor is, also while its message is still on the way."""
        if self.song is None or self._laid_out is None:
            return
        rows = self._laid_out.section_rows
        if self.grid.cursor_row in rows:
            self.section_at = rows.index(self.grid.cursor_row)
        self._stood[self.song.id] = self.section_at
        preset = self.preset
        self._preset_id = preset.id if preset else None

    def on_grid_cell_clicked(self) -> None:
        """A click on the cursor maps."""
        self.action_map()

    # The cursor

    @property
    def preset(self) -> Preset | None:
        """The preset under the cursor."""
        if self._laid_out is None:
            return None
        at = self.grid.cursor_column - self._laid_out.frozen
        presets = self._laid_out.presets
        return presets[at] if 0 <= at < len(presets) else None

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Grey out what needs a section or a preset while there is none."""
        song, section, preset = self._state
        if action in ("add", "add_several", "write_line"):
            return True if song else None
        if action in ("map", "map_on", "map_by_name"):
            return True if section and preset else None
        if action == "untick":
            return bool(self.ticked)
        needs = {
            "map_all",
            "map_like",
            "fill",
            "tick",
            "copy",
            "pedal",
            "pedal_again",
            "early",
            "edit",
            "duplicate",
            "delete",
            "shift",
            "bars",
            "volume",
        }
        return None if action in needs and not section else True

    # Edits

    def _go_down(self) -> None:
        """Go to the next section that is in sight."""
        self.grid.action_move(1, 0)
        self._take_cursor()
        self._describe()

    def action_map(self) -> None:
        """Map the section to the preset under the cursor; unmap it if it is mapped to that."""
        section_edits.map_to(self, self.preset, unmap=True)

    def action_map_on(self) -> None:
        """Map the section to the preset under the cursor and go to the next section."""
        section_edits.map_to(self, self.preset, unmap=False)
        self._go_down()

    def action_map_by_name(self) -> None:
        """Choose the section's preset by name."""
        section_edits.map_by_name(self)

    def action_pedal(self) -> None:
        """Choose a pedal and step it on or off in this section."""
        section_edits.choose_pedal(self)

    def action_pedal_again(self) -> None:
        """Step the pedal on or off that was stepped last."""
        section_edits.step_again(self)

    def action_early(self) -> None:
        """Switch a pedal ahead of the section where that takes a press off the beat, or no more."""
        from rigtui.tui.views.setlist.staging import early

        early(self)

    def action_add(self) -> None:
        """Add a section behind this one."""
        section_edits.add(self)

    def action_add_several(self) -> None:
        """Add several sections behind this one, written in one line."""
        section_edits.add_several(self)

    def action_write_line(self) -> None:
        """Write all sections of the song in one line."""
        section_edits.write_line(self)

    def action_map_all(self) -> None:
        """Give all sections of this name the mapping of this one."""
        many.map_all(self)

    def action_map_like(self) -> None:
        """Map the song as another one maps the sections of the same names."""
        many.map_like(self)

    def action_fill(self) -> None:
        """Give the ticked sections the mapping of the first, or the next that of this one."""
        many.fill(self)

    def action_tick(self) -> None:
        """Tick the section or untick it, and go to the next."""
        self.ticks.turn(self.section_at)
        self._draw()
        self._go_down()

    def action_untick(self) -> None:
        """Untick all sections."""
        self.ticks.clear()
        self._draw()

    def action_copy(self) -> None:
        """Copy the ticked sections, or this one."""
        many.copy_sections(self)

    def action_paste(self, text: str = "") -> None:
        """Put the sections in that were copied."""
        many.paste_sections(self, text)

    def on_paste(self, event: events.Paste) -> None:
        """Take sections out of what the terminal pastes."""
        event.stop()
        self.action_paste(", ".join(event.text.split("\n")))

    def action_edit(self) -> None:
        """Edit everything that belongs to the section."""
        section_edits.edit(self)

    def action_duplicate(self) -> None:
        """Put a copy behind the section; copies of those ticked behind the last of them."""
        section_edits.duplicate(self)

    def action_delete(self) -> None:
        """Delete the section, or those ticked."""
        section_edits.delete(self)

    def action_shift(self, by: int) -> None:
        """Move the section, or those ticked, up or down the song, the cursor with it."""
        section_edits.shift(self, by)

    def action_bars(self, by: int) -> None:
        """Make the section, or those ticked, a bar longer or shorter."""
        section_edits.add_bars(self, by)

    def action_volume(self, by: int) -> None:
        """Turn the guitar's volume for this section, or those ticked, up or down."""
        section_edits.turn_volume(self, by)
