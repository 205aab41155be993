"""The board from above, to scale: devices are chosen, moved and turned by keys and mouse."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from textual import events
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from rigtui.bench.layout import Device, Layout, Outline, layout_of
from rigtui.bench.plan_view import BoardDrawing, Scale, device_at, scale_for
from rigtui.model.cells import wrap
from rigtui.model.errors import RigError
from rigtui.model.lookup import lookup
from rigtui.tui.text import fit

if TYPE_CHECKING:
    from rigtui.bench.leads import Lead
    from rigtui.model.rig import Rig

STEP_MM = 10.0
"""How far a key moves a device; what the mouse moves is rounded to half of it."""
_RIGHT_BUTTON = 3


class BoardPlan(Widget, can_focus=True):
    """Devices as boxes with their jacks; one of them is at hand."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(0,1)", "Device behind", show=False),
        Binding("down,j", "move(0,-1)", "Device in front", show=False),
        Binding("left,h", "move(-1,0)", "Device to the left", show=False),
        Binding("right,l", "move(1,0)", "Device to the right", show=False),
        Binding("right_square_bracket", "step(1)", "Next device", show=False),
        Binding("left_square_bracket", "step(-1)", "Device before", show=False),
        Binding("shift+up,K", "shift(0,1)", "Further back", show=False, id="plan.back"),
        Binding("shift+down,J", "shift(0,-1)", "Further to the front", show=False, id="plan.front"),
        Binding("shift+left,H", "shift(-1,0)", "To the left", show=False, id="plan.left"),
        Binding("shift+right,L", "shift(1,0)", "To the right", show=False, id="plan.right"),
    ]
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "plan--board", "plan--device", "plan--here", "plan--clash", "plan--jack", "plan--lead",
        "plan--empty",
    }  # fmt: skip
    DEFAULT_CSS = """
    BoardPlan {
        height: 1fr;
        background: $background;
        color: $foreground;
        & > .plan--board { color: $text-muted; }
        & > .plan--here { color: $text-accent; text-style: bold; }
        &:focus > .plan--here { background: $primary; color: $text; text-style: bold; }
        & > .plan--clash { color: $text-error; text-style: bold; }
        & > .plan--jack { color: $text-success; }
        & > .plan--lead { color: $text-accent; text-style: bold; }
        & > .plan--empty { color: $text-muted; }
        &:nocolor:focus > .plan--here { text-style: reverse; }
    }
    """

    class DeviceChosen(Message):
        """Another device is at hand."""

    class DeviceMoved(Message):
        """The device at hand is to be moved."""

        def __init__(self, right_mm: float, back_mm: float) -> None:
            super().__init__()
            self.right_mm = right_mm
            self.back_mm = back_mm

    class DeviceClicked(Message):
        """The device at hand was clicked once more."""

    class DeviceTurned(Message):
        """The device at hand is to be turned."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.here = ""
        """The device at hand: a pedal's id or "Switcher"."""
        self._rig: Rig | None = None
        self._lead: Lead | None = None
        self._empty: tuple[str, ...] = ()
        self._plan: BoardDrawing | None = None
        self._held: tuple[int, int] | None = None
        """The cell in which the mouse took hold of the device at hand."""
        self._drawn_to: tuple[float, float] = (0.0, 0.0)
        """How far the mouse has moved it, in millimetres."""

    # Content

    def show(self, rig: Rig, lead: Lead | None, empty: Sequence[str]) -> None:
        """Show the board of a rig.

        Args:
            rig: The rig.
            lead: The patch lead whose way is drawn.
            empty: What to say, in paragraphs, while nothing has a place.
        """
        self._rig, self._lead, self._empty = rig, lead, tuple(empty)
        self._let_go()
        names = list(self.board_layout.devices)
        if self.here not in names:
            placed = [device.name for device in self.board_layout.placed]
            self.here = next(iter((*placed, *names)), "")
        self._draw()

    @property
    def board_layout(self) -> Layout:
        """The layout shown."""
        assert self._rig is not None
        return layout_of(self._rig)

    @property
    def device(self) -> Device | None:
        """The device at hand."""
        return self.board_layout.devices.get(self.here) if self._rig is not None else None

    def _draw(self, scale: Scale | None = None) -> None:
        """Draw anew; at the same scale while the mouse holds a device."""
        rig = self._rig
        self._plan = None
        if rig is not None and self.board_layout.placed and self.size.width:
            layout = self.board_layout
            if self._held is not None and self._drawn_to != (0.0, 0.0):
                from rigtui.model.edits.bench import shift_place

                try:
                    layout = layout_of(shift_place(rig, self.here, *self._drawn_to))
                except RigError:
                    layout = self.board_layout
            scale = scale or scale_for(layout, self.size.width, self.size.height)
            names = {name: lookup(rig).label(name) for name in layout.devices}
            self._plan = BoardDrawing(layout, names, scale, self.here, self._lead)
        self.refresh()

    def on_resize(self) -> None:
        """Use the room that there is."""
        self._draw()

    def choose(self, name: str) -> None:
        """Have another device at hand."""
        if name != self.here and self._rig is not None and name in self.board_layout.devices:
            self.here = name
            self._draw(self._plan.scale if self._plan else None)
            self.post_message(self.DeviceChosen())

    # Drawing

    def render_line(self, y: int) -> Strip:
        """Draw one line of the screen."""
        width, base = self.size.width, self.rich_style
        if self._plan is None:
            return self._empty_line(y, width)
        lines = self._plan.lines
        if y >= len(lines):
            return Strip([Segment(" " * width, base)], width)
        styles = {"": base}
        segments = []
        for char, look in lines[y]:
            if look not in styles:
                styles[look] = base + self.get_component_rich_style(f"plan--{look}", partial=True)
            segments.append(Segment(char, styles[look]))
        return Strip(segments).adjust_cell_length(width, base).simplify()

    def _empty_line(self, y: int, width: int) -> Strip:
        style = self.rich_style + self.get_component_rich_style("plan--empty", partial=True)
        lines = [line for text in self._empty for line in wrap(text, max(8, width - 2), " ")]
        text = lines[y] if y < len(lines) else ""
        return Strip([Segment(fit(text, width), style)], width)

    # Keys

    def action_step(self, by: int) -> None:
        """Go to the next device in the order of the chain, those without a place too."""
        if self._rig is None:
            return
        names = list(self.board_layout.devices)
        if names:
            at = names.index(self.here) if self.here in names else 0
            self.choose(names[(at + by) % len(names)])

    def action_move(self, right: int, back: int) -> None:
        """Go to the nearest device in a direction."""
        device = self.device
        if device is None:
            return
        if device.place is None or len(self.board_layout.placed) < 2:
            self.action_step(right or -back)
            return
        x, y = _middle(device.outline)
        near: list[tuple[float, str]] = []
        for other in self.board_layout.placed:
            to_x, to_y = _middle(other.outline)
            along = (to_x - x) * right + (to_y - y) * back
            across = abs((to_x - x) * back) + abs((to_y - y) * right)
            if along > 1e-6:
                near.append((along + 2 * across, other.name))
        if near:
            self.choose(min(near)[1])

    def action_shift(self, right: int, back: int) -> None:
        """Move the device at hand."""
        self.post_message(self.DeviceMoved(right * STEP_MM, back * STEP_MM))

    # Mouse

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """Take hold of a device; with the right button turn it."""
        plan = self._plan
        if plan is None or self._rig is None:
            return
        name = device_at(self.board_layout, plan.scale.point(event.x, event.y), self.here)
        if name is None:
            return
        if event.button == _RIGHT_BUTTON:
            self.choose(name)
            self.post_message(self.DeviceTurned())
            return
        self._was_here = name == self.here
        self.choose(name)
        self._held, self._drawn_to = (event.x, event.y), (0.0, 0.0)
        self.capture_mouse()

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Let the device that is held follow the mouse."""
        if self._held is None or self._plan is None:
            return
        scale = self._plan.scale
        moved = (
            _rounded((event.x - self._held[0]) * scale.column_mm),
            _rounded((self._held[1] - event.y) * scale.line_mm),
        )
        if moved != self._drawn_to:
            self._drawn_to = moved
            self._draw(scale)

    def on_mouse_up(self, event: events.MouseUp) -> None:
        """Leave the device where it is now: one step, however far it was moved."""
        if self._held is None:
            return
        moved, was_here = self._drawn_to, self._was_here
        self._let_go()
        if moved != (0.0, 0.0):
            self.post_message(self.DeviceMoved(*moved))
        elif was_here:
            self.post_message(self.DeviceClicked())

    _was_here = False
    """Whether the device that is held was at hand before."""

    def _let_go(self) -> None:
        if self._held is not None:
            self._held, self._drawn_to = None, (0.0, 0.0)
            self.release_mouse()


def _middle(outline: Outline) -> tuple[float, float]:
    return (outline.left + outline.right) / 2, (outline.front + outline.back) / 2


def _rounded(mm: float) -> float:
    half = STEP_MM / 2
    return round(mm / half) * half
