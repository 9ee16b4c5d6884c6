"""A drawing as pure data: what stands where, each thing with its bounding box.

Lengths are inches on paper, origin at the top left corner of the sheet, x to the right and y
downwards, rounded to 1/1000 in.  Renderers only draw a scene; checks only read it.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from linecalc.diagram.fonts import LINE_PITCH, ascent_in, descent_in, text_width_in

SHEET_WIDTH_IN = 17.0
SHEET_HEIGHT_IN = 11.0
#: Drawing grid, in inches.
GRID_IN = 0.125


def quantise(value: float) -> float:
    """Round a length to 1/1000 in (and never to a negative zero)."""
    return round(value, 3) + 0.0


def snap_up(value: float) -> float:
    """The next quarter of the drawing grid at or above, forgiving 1/1000 in."""
    step = GRID_IN / 4
    return -(-(value - 0.001) // step) * step


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on the sheet, in inches; ``y1`` is the lower edge."""

    x0: float
    y0: float
    x1: float
    y1: float

    def __post_init__(self) -> None:
        for name in ("x0", "y0", "x1", "y1"):
            object.__setattr__(self, name, quantise(getattr(self, name)))
        if self.x1 < self.x0 or self.y1 < self.y0:
            raise ValueError(f"a box runs backwards: {self.x0, self.y0, self.x1, self.y1}")

    def width(self) -> float:
        """Width in inches."""
        return self.x1 - self.x0

    def height(self) -> float:
        """Height in inches."""
        return self.y1 - self.y0

    def centre(self) -> tuple[float, float]:
        """The middle point."""
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    def overlaps(self, other: Box, slack: float = 0.0005) -> bool:
        """Whether the two share area; boxes that only touch do not."""
        return (
            self.x0 < other.x1 - slack
            and other.x0 < self.x1 - slack
            and self.y0 < other.y1 - slack
            and other.y0 < self.y1 - slack
        )

    def contains(self, other: Box, slack: float = 0.0005) -> bool:
        """Whether the other lies inside, edges included."""
        return (
            self.x0 <= other.x0 + slack
            and self.y0 <= other.y0 + slack
            and other.x1 <= self.x1 + slack
            and other.y1 <= self.y1 + slack
        )

    def grown(self, by_in: float) -> Box:
        """The box with *by_in* more on every side."""
        return Box(self.x0 - by_in, self.y0 - by_in, self.x1 + by_in, self.y1 + by_in)

    def moved(self, dx: float, dy: float) -> Box:
        """The box moved."""
        return Box(self.x0 + dx, self.y0 + dy, self.x1 + dx, self.y1 + dy)


def hull(boxes: list[Box] | tuple[Box, ...]) -> Box:
    """The smallest box around some boxes (at least one)."""
    return Box(
        min(box.x0 for box in boxes),
        min(box.y0 for box in boxes),
        max(box.x1 for box in boxes),
        max(box.y1 for box in boxes),
    )


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol of `linecalc.diagram.symbols`, scaled to nothing: its box has the symbol's size.

    ``subject`` is the tag of the thing it stands for.  ``existing`` draws it thinner and dashed.
    """

    kind: str
    box: Box
    subject: str = ""
    existing: bool = False


@dataclass(frozen=True, slots=True)
class Wire:
    """An orthogonal run of conductors through its corner points."""

    points: tuple[tuple[float, float], ...]
    subject: str = ""
    existing: bool = False
    role: str = "power"  # or "ground", or "sample" in the legend

    def __post_init__(self) -> None:
        points = tuple((quantise(x), quantise(y)) for x, y in self.points)
        object.__setattr__(self, "points", points)
        if len(points) < 2:
            raise ValueError("a wire needs two points")
        for (x0, y0), (x1, y1) in zip(points, points[1:]):
            if x0 != x1 and y0 != y1:
                raise ValueError(f"a wire runs aslant: {x0, y0} to {x1, y1}")

    def segments(self) -> tuple[Box, ...]:
        """Each straight piece as a box of no thickness."""
        return tuple(
            Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))
            for (x0, y0), (x1, y1) in zip(self.points, self.points[1:])
        )


@dataclass(frozen=True, slots=True)
class Text:
    """Lines of text; (x, y) is the anchor point on the first baseline.

    ``anchor`` is ``start``, ``middle`` or ``end``; ``cap_in`` the cap height.  ``role`` says what
    the text is (``label``, ``note``, ``table``, ``title``, ``tag`` …).
    """

    x: float
    y: float
    lines: tuple[str, ...]
    cap_in: float
    anchor: str = "start"
    subject: str = ""
    role: str = "label"

    def __post_init__(self) -> None:
        object.__setattr__(self, "x", quantise(self.x))
        object.__setattr__(self, "y", quantise(self.y))
        if self.anchor not in ("start", "middle", "end"):
            raise ValueError(f"unknown anchor {self.anchor!r}")

    def baselines(self) -> tuple[tuple[str, float], ...]:
        """Each line with the y of its baseline."""
        pitch = self.cap_in * LINE_PITCH
        return tuple((line, quantise(self.y + i * pitch)) for i, line in enumerate(self.lines))

    def width(self) -> float:
        """Width of the widest line, in inches."""
        return max(text_width_in(line, self.cap_in) for line in self.lines)

    def box(self) -> Box:
        """The room the text takes, from accent of the first line to descender of the last."""
        width = self.width()
        left = self.x - {"start": 0.0, "middle": width / 2, "end": width}[self.anchor]
        top = self.y - ascent_in(self.cap_in)
        bottom = self.baselines()[-1][1] + descent_in(self.cap_in)
        return Box(left, top, left + width, bottom)


@dataclass(frozen=True, slots=True)
class Outline:
    """A drawn rectangle that may hold things: frame, table, enclosure, boundary, run tag.

    ``kind`` sets its line; things may lie wholly inside or wholly outside, not on its edge,
    except that wires may cross a ``boundary`` or an ``enclosure``.  A ``run tag`` has round ends
    and no wire enters it.
    """

    kind: str
    box: Box
    subject: str = ""
    existing: bool = False


@dataclass(frozen=True, slots=True)
class Rule:
    """A straight line of a table or the title block."""

    x0: float
    y0: float
    x1: float
    y1: float
    heavy: bool = False

    def __post_init__(self) -> None:
        for name in ("x0", "y0", "x1", "y1"):
            object.__setattr__(self, name, quantise(getattr(self, name)))

    def box(self) -> Box:
        """The line as a box of no thickness."""
        return Box(
            min(self.x0, self.x1), min(self.y0, self.y1), max(self.x0, self.x1), max(self.y0, self.y1)
        )


Item = Symbol | Wire | Text | Outline | Rule


@dataclass(frozen=True, slots=True)
class Scene:
    """One sheet: its items in drawing order, and notes about what could not be drawn as given."""

    items: tuple[Item, ...]
    title: str = ""
    description: str = ""
    sheet: str = ""
    width_in: float = SHEET_WIDTH_IN
    height_in: float = SHEET_HEIGHT_IN
    notes: tuple[str, ...] = field(default=())

    def of(self, kind: type) -> tuple:
        """The items of one type, in drawing order."""
        return tuple(item for item in self.items if isinstance(item, kind))


def item_box(item: Item) -> Box:
    """The bounding box of any item."""
    if isinstance(item, (Symbol, Outline)):
        return item.box
    if isinstance(item, Wire):
        return hull(item.segments())
    return item.box()


def subject_boxes(scene: Scene) -> dict[str, Box]:
    """For each tag the box of its symbols, outlines and run tags: where a link may lie.

    Things drawn together share a box; their tags stand in one subject, with commas.
    """
    boxes: dict[str, list[Box]] = {}
    for item in scene.items:
        if isinstance(item, (Symbol, Outline)) and item.subject and item.kind != "boundary":
            for subject in item.subject.split(", "):
                boxes.setdefault(subject, []).append(item.box)
    return {subject: hull(found) for subject, found in boxes.items()}


def moved_item(item: Item, dx: float, dy: float) -> Item:
    """The item, moved by some inches."""
    if isinstance(item, (Symbol, Outline)):
        return replace(item, box=item.box.moved(dx, dy))
    if isinstance(item, Wire):
        return replace(item, points=tuple((x + dx, y + dy) for x, y in item.points))
    if isinstance(item, Text):
        return replace(item, x=item.x + dx, y=item.y + dy)
    return replace(item, x0=item.x0 + dx, y0=item.y0 + dy, x1=item.x1 + dx, y1=item.y1 + dy)


@dataclass(frozen=True, slots=True)
class Group:
    """Items that belong together, drawn from their own top left corner (0, 0)."""

    width: float
    height: float
    items: tuple[Item, ...]

    def at(self, x: float, y: float) -> tuple[Item, ...]:
        """The items with the group's corner at (x, y)."""
        return tuple(moved_item(item, x, y) for item in self.items)
