"""The rig in space and its steps, as the page is given them."""

from __future__ import annotations

from collections.abc import Mapping

from platekit.assembly.proof.things import ThingKind
from platekit.export.build_assembly import AssemblyRecord, FastenerRecord
from platekit.export.figures import format_mm
from platekit.export.finishes import Finish, finish_of
from platekit.export.page.meshes import mesh_table, meshes_json
from platekit.export.page.page import Page
from platekit.export.page.squeezed import squeezed_drawing
from platekit.export.picture_steps import layup_picture, step_picture
from platekit.export.step_table import APART, FIRST, layup_words, step_lines
from platekit.views.camera import Camera
from platekit.views.layups import LayUpView
from platekit.views.scene import Scene, Shown

# How things of each kind are called on their cards.
KIND_WORDS: Mapping[ThingKind, str] = {
    ThingKind.PLATE: "plate",
    ThingKind.DEVICE: "bought part",
    ThingKind.PULLEY: "pulley",
    ThingKind.BELT: "belt",
    ThingKind.FASTENER: "screw",
    ThingKind.CAPTIVE: "captive nut",
}
# A place is told to a thousandth: finer than any screen.
DECIMALS = 3


def rig_json(page: Page) -> dict[str, object] | None:
    """Return the rig as it is shown in space; None where it is not."""
    scene = page.scene
    if scene is None or not scene.things:
        return None
    meshes, which = mesh_table(scene.things)
    places = {part.name: number for number, part in enumerate(page.parts)}
    screws = {one.name: one for one in _assembly(page).fasteners}
    finishes = [_finish(one, page) for one in scene.things]
    return {
        "box": [_vector(corner) for corner in scene.box.tolist()],
        "meshes": meshes_json(meshes),
        "things": [
            {
                "name": one.name,
                "kind": one.kind.value,
                "plates": list(one.plates),
                "part": _parts(one, page.kinds, places),
                "colour": finish.colour,
                "opacity": finish.opacity,
                "says": _says(one, screws),
                "step": one.step,
                "apart": _vector([one.apart.x, one.apart.y, one.apart.z]),
                "at": _vector(one.box[0].tolist()),
                "mesh": mesh,
            }
            for one, mesh, finish in zip(scene.things, which, finishes, strict=True)
        ],
    }


def steps_json(page: Page) -> list[dict[str, object]]:
    """Return the steps of assembly in words, with what is there after each."""
    assembly = _assembly(page)
    numbers = {} if page.scene is None else {one.name: k for k, one in enumerate(page.scene.things)}
    heaps: dict[str, list[int]] = {}
    said: list[dict[str, object]] = []
    for line in step_lines(assembly):
        step = line.step
        view = next((one for one in page.step_views if one.number == line.number), None)
        there = _after(page.scene, line.number, numbers)
        before = heaps.get(step.heap, [])
        heaps[step.heap] = there
        said.append(
            {
                "number": line.number,
                "heap": step.heap,
                "brings": step.brings,
                "bring_in": list(step.bring_in),
                "before": list(line.before),
                "moves": _moves(line.moves),
                "joins": list(line.joins),
                "screws": list(line.screws),
                "belts": list(step.belts),
                "there": there,
                "new": [one for one in there if one not in before],
                "cautions": list(line.cautions),
                "picture": None if view is None else squeezed_drawing(step_picture(view)),
                "seen": None if view is None else _seen(view.camera),
                "layup": None if view is None or view.layup is None else _layup(view.layup),
            }
        )
    return said


def _layup(view: LayUpView) -> dict[str, object]:
    """Return the layers of a laminate before they are glued, with their picture."""
    says = layup_words(view)
    return {
        "layers": list(view.layers),
        "says": says,
        "picture": squeezed_drawing(layup_picture(view, says=says)),
    }


def _moves(way: str) -> str:
    """Return which way a thing moves, in words that can stand alone."""
    return way if way in {FIRST, APART} else f"moves: {way}"


def things_of_parts(page: Page) -> dict[str, list[int]]:
    """Return which things of the rig hold pieces of each kind of part, by the kind's name."""
    held: dict[str, list[int]] = {}
    for number, one in enumerate(page.scene.things if page.scene else ()):
        for kind in dict.fromkeys(page.kinds.get(plate, plate) for plate in one.plates):
            held.setdefault(kind, []).append(number)
    return held


def _assembly(page: Page) -> AssemblyRecord:
    return page.record.assembly or AssemblyRecord()


def _seen(camera: Camera) -> dict[str, float]:
    """Return from where a camera looks: turn from the rig's x, counter-clockwise, and rise."""
    return {
        "turn": round((camera.azimuth_deg + 90.0) % 360.0 - 180.0, DECIMALS),
        "rise": round(camera.elevation_deg, DECIMALS),
    }


def _after(scene: Scene | None, number: int, numbers: Mapping[str, int]) -> list[int]:
    """Return what is there once a step is done, in the heap where it is done."""
    if scene is None or number > len(scene.steps):
        return []
    return [numbers[one.name] for one in scene.after(number)]


def _finish(one: Shown, page: Page) -> Finish:
    """Return how a thing looks: as in the file other viewers open."""
    known = {part.name: part.sheet.material.kind for part in page.parts}
    kinds = (known.get(page.kinds.get(plate, plate), "") for plate in one.plates)
    return finish_of(one.kind, material_kind=next(kinds, ""))


def _parts(one: Shown, kinds: Mapping[str, str], places: Mapping[str, int]) -> list[int]:
    found = dict.fromkeys(kinds.get(plate, plate) for plate in one.plates)
    return [places[name] for name in found if name in places]


def _says(one: Shown, screws: Mapping[str, FastenerRecord]) -> list[tuple[str, str]]:
    """Return what the card of a thing says, line by line."""
    word = "laminate" if len(one.plates) > 1 else KIND_WORDS[one.kind]
    said = [("kind", word)]
    if len(one.plates) > 1:
        said.append(("layers", ", ".join(one.plates)))
    screw = screws.get(one.name)
    if screw is not None:
        said += [("is", screw.designation), ("holds", ", ".join(screw.holds))]
        if screw.threaded_in:
            said.append(("thread in", screw.threaded_in))
    held = [name for name, other in screws.items() if one.name in other.holds]
    held += [name for name, other in screws.items() if {*one.plates} & {*other.holds}]
    if held:
        said.append(("held by", _listed(tuple(dict.fromkeys(held)))))
    size = (one.box[1] - one.box[0]).tolist()
    across = " \N{MULTIPLICATION SIGN} ".join(format_mm(side, decimals=1) for side in size)
    said.append(("room it takes", f"{across} mm"))
    return said


def _listed(names: tuple[str, ...], most: int = 6) -> str:
    if len(names) <= most:
        return ", ".join(names)
    return f"{', '.join(names[:most])} and {len(names) - most} more"


def _vector(values: list[float]) -> list[float]:
    return [round(value, DECIMALS) + 0.0 for value in values]
