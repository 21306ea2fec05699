"""What goes into a nesting and what comes out."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from platekit.errors import NestingError
from platekit.geometry.motion import Motion
from platekit.geometry.profile import Profile
from platekit.nesting.fields import (
    require_finite,
    require_flag,
    require_number,
    require_text,
    require_whole,
)
from platekit.showing import Shows

QUARTER_TURNS = (0.0, 90.0, 180.0, 270.0)

# So far may an offcut's bounds be off the extents it is said to have.
EXTENTS_MM = 1e-6

# Called with the share done, 0 to 1, and a line on the best so far.
Progress = Callable[[float, str], None]


@dataclass(frozen=True, slots=True)
class NestPart:
    """A part to be placed, already compensated for the beam.

    Attributes:
        name: Its name, unique among the parts of one nesting.
        profile: Its shape; the origin it is turned about is its own.
        quantity: How many copies.
        rotations_deg: Allowed turns, degrees counter-clockwise; None for any.
        mirror: Whether a copy may be laid face down.
        together: Parts that say the same word here lie on one sheet; empty for no wish.
        on: Name of the stock it must lie on; empty for any.
        material: What it is to be cut from; empty where nobody says.
        thickness_mm: How thick that is; None where nobody says.

    Raises:
        NestingError: The quantity is not a whole number above 0, a turn or the thickness is not
            a number, or a wish is of the wrong kind.
    """

    name: str
    profile: Profile
    quantity: int = 1
    rotations_deg: tuple[float, ...] | None = QUARTER_TURNS
    mirror: bool = field(default=False, kw_only=True)
    together: str = field(default="", kw_only=True)
    on: str = field(default="", kw_only=True)
    material: str = field(default="", kw_only=True)
    thickness_mm: float | None = field(default=None, kw_only=True)

    def __post_init__(self) -> None:
        require_text("name", self.name)
        require_whole("quantity", self.quantity, part=self.name, least=1)
        require_flag("mirror", self.mirror, part=self.name)
        for field_name in ("together", "on", "material"):
            require_text(field_name, getattr(self, field_name), part=self.name)
        if self.thickness_mm is not None:
            require_number("thickness", self.thickness_mm, part=self.name, unit=" mm")
        if self.rotations_deg is None:
            return
        if not self.rotations_deg:
            raise NestingError(
                "no rotation is allowed", part=self.name, remedy="allow at least 0 degrees"
            )
        for angle in self.rotations_deg:
            require_finite("rotation", angle, part=self.name)

    def may_lie_on(self, stock: Stock | Roll) -> bool:
        """Return whether its wish for a stock, if it has one, lets it lie on this one."""
        return not self.on or (isinstance(stock, Stock) and stock.name == self.on)


@dataclass(frozen=True, slots=True)
class Stock:
    """Sheets of one size, or offcuts of one shape. The face grain runs along x.

    Attributes:
        width_mm: Extent along x.
        height_mm: Extent along y.
        count: How many there are; None for as many as needed.
        name: What the rack calls it; may be empty.
        price: What one costs, in any money; None where nobody says.
        material: What it is; empty where nobody says.
        thickness_mm: How thick it is; None where nobody says.
        shape: The outline of an offcut, holes included, its bounds from (0, 0) to the two
            extents; None for a whole sheet.

    Raises:
        NestingError: A size or the thickness is not a number above 0, the count is not a whole
            number or the price no number of 0 or more, name or material is no text, or the shape
            does not have these extents.
    """

    width_mm: float
    height_mm: float
    count: int | None = None
    name: str = ""
    price: float | None = field(default=None, kw_only=True)
    material: str = field(default="", kw_only=True)
    thickness_mm: float | None = field(default=None, kw_only=True)
    shape: Profile | None = field(default=None, kw_only=True)

    def __post_init__(self) -> None:
        require_text("name", self.name, of="stock")
        of = f"stock {self.name or f'{self.width_mm} x {self.height_mm} mm'}"
        require_number("width", self.width_mm, of=of, unit=" mm")
        require_number("height", self.height_mm, of=of, unit=" mm")
        require_text("material", self.material, of=of)
        if self.thickness_mm is not None:
            require_number("thickness", self.thickness_mm, of=of, unit=" mm")
        if self.count is not None:
            require_whole("count", self.count, of=of, least=0)
        if self.price is not None:
            require_number("price", self.price, of=of, least=0)
        if self.shape is not None:
            self._take_extents(self.shape)

    def _take_extents(self, shape: Profile) -> None:
        """Check the extents against the shape's, and take over what rounding left between them."""
        box = shape.bounds
        off = (box.left, box.bottom, box.right - self.width_mm, box.top - self.height_mm)
        if not max(map(abs, off)) <= EXTENTS_MM:
            raise NestingError(
                f"stock {self}: its shape reaches from ({box.left:g}, {box.bottom:g}) to "
                f"({box.right:g}, {box.top:g}), not from (0, 0) to "
                f"({self.width_mm:g}, {self.height_mm:g})",
                remedy="use Stock.of_shape, which moves the shape there",
            )
        moved = shape.moved(Motion(dx_mm=-box.left, dy_mm=-box.bottom))
        object.__setattr__(self, "shape", moved)
        object.__setattr__(self, "width_mm", moved.bounds.right)
        object.__setattr__(self, "height_mm", moved.bounds.top)

    @classmethod
    def of_shape(
        cls,
        shape: Profile,
        *,
        count: int | None = 1,
        name: str = "",
        price: float | None = None,
        material: str = "",
        thickness_mm: float | None = None,
    ) -> Stock:
        """Return an offcut of a shape, wherever that lies; it is moved to the origin, not turned.

        Args:
            shape: The offcut, holes included.
            count: How many there are; None for as many as needed.
            name: What the rack calls it.
            price: What one costs.
            material: What it is.
            thickness_mm: How thick it is.
        """
        corner = shape.bounds
        moved = shape.moved(Motion(dx_mm=-corner.left, dy_mm=-corner.bottom))
        return cls(
            moved.bounds.right,
            moved.bounds.top,
            count,
            name,
            price=price,
            material=material,
            thickness_mm=thickness_mm,
            shape=moved,
        )

    @property
    def area_mm2(self) -> float:
        """Area of one, mm2: of an offcut, its shape's."""
        return self.width_mm * self.height_mm if self.shape is None else self.shape.area_mm2

    def __str__(self) -> str:
        """Return the name, or else ``600 x 400 mm``."""
        return self.name or f"{self.width_mm:g} x {self.height_mm:g} mm"


@dataclass(frozen=True, slots=True)
class Roll:
    """Stock of fixed height and open length; the length runs along x.

    Raises:
        NestingError: The height is not a number above 0.
    """

    height_mm: float

    def __post_init__(self) -> None:
        require_number("height", self.height_mm, of="roll", unit=" mm")

    def __str__(self) -> str:
        """Return ``roll 500 mm high``."""
        return f"roll {self.height_mm:g} mm high"


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """Where one copy of a part lies.

    Attributes:
        part: The part's name.
        copy: Which copy, from 1.
        x_mm: Move along x, after turning.
        y_mm: Move along y, after turning.
        rotation_deg: Turn counter-clockwise about the part's own origin.
        mirrored: Whether the part was first mirrored in its own y axis: it lies face down.
    """

    part: str
    copy: int
    x_mm: float
    y_mm: float
    rotation_deg: float
    mirrored: bool = False

    @property
    def motion(self) -> Motion:
        """The motion from the part as given to its place on the sheet."""
        return Motion(
            dx_mm=self.x_mm, dy_mm=self.y_mm, turn_deg=self.rotation_deg, mirrored=self.mirrored
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class NestedSheet(Shows):
    """One sheet with the parts on it.

    Attributes:
        stock: What it was taken from.
        width_mm: Extent along x; for a roll the length used.
        height_mm: Extent along y.
        placements: The parts, in the order they were placed.
        used_length_mm: From the left edge to the last part's right side, margin included: right
            of it the sheet is a clean offcut.
        utilisation: Area of the parts over area of the sheet, 0 to 1.
        material: What the parts on it are cut from; empty where nobody says.
        thickness_mm: How thick that is; None where nobody says.
        offcuts: What of the sheet is left clean to the right of everything, in its place on the
            sheet: a rectangle, or what an offcut's shape makes of it.
    """

    stock: Stock | Roll
    width_mm: float
    height_mm: float
    placements: tuple[Placement, ...]
    used_length_mm: float
    utilisation: float
    material: str = ""
    thickness_mm: float | None = None
    offcuts: tuple[Profile, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Unplaced:
    """A copy that found no sheet, and why."""

    part: str
    copy: int
    reason: str

    def __str__(self) -> str:
        """Return it as one line."""
        return f"{self.part} (copy {self.copy}): {self.reason}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Nest(Shows):
    """A finished, verified nesting.

    Attributes:
        sheets: The sheets in the order they were filled; the last is the emptiest by intent.
        unplaced: Every copy that lies on none of them.
        gap_mm: The gap it was made and verified with.
        margin_mm: The margin it was made and verified with.
        interrupted: Whether the search was stopped from the keyboard, at its best so far.
    """

    sheets: tuple[NestedSheet, ...]
    unplaced: tuple[Unplaced, ...]
    gap_mm: float
    margin_mm: float
    interrupted: bool = False
