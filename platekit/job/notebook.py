"""What a notebook shows of a value: `platekit.showing` says how it is asked.

A picture alone where that says all: plates and parts. A picture with tables under it where there
is more to tell: assemblies, nested sheets, a whole run.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from platekit.assembly.assembly import Assembly
from platekit.assembly.proof import Proof
from platekit.errors import PlatekitError
from platekit.export.figures import format_mm
from platekit.export.fragments import image, paragraph, table
from platekit.export.picture import counted
from platekit.export.picture_notice import notice
from platekit.export.picture_parts import parts_picture
from platekit.export.picture_rig import rig_picture
from platekit.export.picture_sheets import PicturedSheet, sheets_picture
from platekit.findings import Finding, figures_of
from platekit.geometry.chains import Bounds
from platekit.job.kinds import kinds_of
from platekit.job.resolving import resolved
from platekit.job.run import Build
from platekit.job.space import scene_for
from platekit.job.stocking import StockedSheet
from platekit.nesting import Nest, NestedSheet, Stock
from platekit.panel.flipping import face_of
from platekit.panel.part import Part
from platekit.panel.plate import Plate
from platekit.views.scene import Scene


class Notebook:
    """Draws values for a notebook; what cannot be drawn says why in its place.

    A notebook asks for every form of a value, one after the other: the last picture is kept.
    """

    def __init__(self) -> None:
        self._last: tuple[object, str | None] | None = None

    def as_svg(self, value: object) -> str | None:
        """Return the picture of a value; None where it has none."""
        if self._last is not None and self._last[0] is value:
            return self._last[1]
        made = _guarded(_PICTURES, value, lambda said: notice(_title(value), said))
        self._last = (value, made)
        return made

    def as_html(self, value: object) -> str | None:
        """Return a value with its tables; None where the picture says all."""
        tables = _guarded(_TABLES, value, lambda said: "".join(map(paragraph, said)))
        if tables is None:
            return None
        picture = self.as_svg(value)
        return (image(picture, says=_title(value)) if picture else "") + tables


def _guarded(
    known: Mapping[type, Callable[..., str | None]],
    value: object,
    told: Callable[[list[str]], str],
) -> str | None:
    """Return what is known of the value's type; where that raises, what is told instead."""
    drawing = next((known[kind] for kind in type(value).__mro__ if kind in known), None)
    if drawing is None:
        return None
    try:
        return drawing(value)
    except PlatekitError as err:
        return told(["It cannot be drawn as it is.", str(err)])
    except Exception as err:  # noqa: BLE001  a notebook's cell must not fail for its picture
        return told(["It cannot be drawn, by a fault in platekit.", f"{type(err).__name__}: {err}"])


def _title(value: object) -> str:
    name = getattr(value, "name", None) or getattr(value, "title", None)
    return str(name) if name else type(value).__name__


def _plate_picture(plate: Plate) -> str:
    return _part_picture(plate.part())


def _part_picture(part: Part) -> str:
    # It comes without tables, so a notebook puts it into its page as it is: no wider than its cell.
    made = parts_picture(part.name, parts=[part])
    return made.replace("<svg ", '<svg style="max-width:100%;height:auto" ', 1)


def _assembly_picture(assembly: Assembly) -> str:
    given = resolved(assembly)
    # How it goes together is not asked: that takes longer, and shows no other picture.
    scene = scene_for(given, Proof((), ()))
    return _rig(assembly.name, scene, kinds_of(given.parts))


def _build_picture(build: Build) -> str:
    return _rig(build.title, build.scene, build.parts)


def _rig(name: str, scene: Scene | None, parts: Sequence[Part]) -> str:
    """Return a rig as it stands; what is one thing alone shows as its parts."""
    if scene is None or len(scene.things) < 2:
        return parts_picture(name, parts=parts)
    return rig_picture(name, scene)


def _sheet_picture(one: StockedSheet) -> str:
    pictured = PicturedSheet(kind=one.sheet.name, nested=one.nested, kerf_mm=one.kerf_mm)
    return sheets_picture("nested sheet", faces=[*map(face_of, one.parts)], sheets=[pictured])


def _assembly_tables(assembly: Assembly) -> str:
    said = ", ".join(
        [
            counted(len(assembly.panels), "panel"),
            f"{counted(len(assembly.joints), 'joint')} of its own",
            f"{counted(len(assembly.hardware), 'bought thing')} mounted",
        ]
    )
    return paragraph(f"{assembly.name}: {said}") + table(
        "Panels",
        ("panel", "sheets", "thickness, mm"),
        (
            (
                panel.name,
                ", ".join(dict.fromkeys(plate.sheet.name for plate in panel.layers)),
                format_mm(sum(plate.sheet.thickness_mm for plate in panel.layers), decimals=2),
            )
            for panel in assembly.panels
        ),
    )


def _build_tables(build: Build) -> str:
    pieces = counted(sum(part.quantity for part in build.parts), "piece")
    kinds = counted(len(build.parts), "kind")
    said = f"{build.title}: {pieces} of {kinds}, from {build.sheet.name}"
    if build.totals is not None:
        totals = build.totals
        said += (
            f"; {counted(totals.sheet_count, 'sheet')}, {totals.cut_length_mm / 1000:.1f} m of cut"
        )
    lines = [paragraph(said)]
    if build.withheld:
        lines.append(paragraph("A finding says stop: there are no cut files."))
    return "".join(
        [
            *lines,
            _findings_table(build.findings),
            table(
                "Parts",
                ("part", "pieces", "size, mm", "sheet"),
                (
                    (part.name, str(part.quantity), _size(part.profile.bounds), part.sheet.name)
                    for part in build.parts
                ),
            ),
            _sheets_table(one.nested for one in build.sheets),
        ]
    )


def _size(of: Bounds | NestedSheet) -> str:
    width, height = (format_mm(one, decimals=1) for one in (of.width_mm, of.height_mm))
    return f"{width} \N{MULTIPLICATION SIGN} {height}"


def _findings_table(findings: Iterable[Finding]) -> str:
    return table(
        "Findings, the gravest first",
        ("", "where", "what", "remedy"),
        (
            (
                one.severity.name.lower(),
                " / ".join(filter(None, (one.part, one.feature))),
                figures_of(one),
                one.remedy,
            )
            for one in findings
        ),
    )


def _nest_tables(nest: Nest) -> str:
    missing = Counter((one.part, one.reason) for one in nest.unplaced)
    return _sheets_table(nest.sheets) + table(
        "Without a place",
        ("part", "pieces", "why"),
        ((part, str(count), reason) for (part, reason), count in missing.items()),
    )


def _sheets_table(sheets: Iterable[NestedSheet]) -> str:
    return table(
        "Sheets",
        ("sheet", "size, mm", "pieces", "filled"),
        (
            (
                " ".join(filter(None, (str(number), _stock_name(one)))),
                _size(one),
                str(len(one.placements)),
                f"{one.utilisation:.0%}",
            )
            for number, one in enumerate(sheets, start=1)
        ),
    )


def _stock_name(one: NestedSheet) -> str:
    return one.stock.name if isinstance(one.stock, Stock) else ""


def _sheet_tables(one: NestedSheet) -> str:
    return _sheets_table([one]) + table(
        "Pieces", ("part", "copy", "x, mm", "y, mm", "turn, degrees", ""), _placed(one)
    )


def _placed(one: NestedSheet) -> Iterator[tuple[str, ...]]:
    for placed in one.placements:
        yield (
            placed.part,
            str(placed.copy),
            format_mm(placed.x_mm, decimals=2),
            format_mm(placed.y_mm, decimals=2),
            format_mm(placed.rotation_deg, decimals=2),
            "face down" if placed.mirrored else "",
        )


_PICTURES: Mapping[type, Callable[..., str | None]] = {
    Plate: _plate_picture,
    Part: _part_picture,
    Assembly: _assembly_picture,
    Build: _build_picture,
    StockedSheet: _sheet_picture,
}
_TABLES: Mapping[type, Callable[..., str | None]] = {
    Assembly: _assembly_tables,
    Build: _build_tables,
    Nest: _nest_tables,
    NestedSheet: _sheet_tables,
    StockedSheet: lambda one: _sheet_tables(one.nested),
}

NOTEBOOK = Notebook()
