"""Tables of the user's own: faces and bearings that no standard holds."""

import pytest

from platekit.handbook import TableError
from platekit.hardware.devices.bearings import ball_bearing
from platekit.hardware.devices.motors import encoder, motor
from platekit.hardware.faces.bearings import BEARING_COLUMNS, own_bearings
from platekit.hardware.faces.encoders import ENCODER_COLUMNS, own_encoder_bodies
from platekit.hardware.faces.motor_faces import MOTOR_FACE_COLUMNS, own_motor_faces

FACE = {
    "designation": "gear motor",
    "body_mm": "37",
    "square": "no",
    "hole_count": "6",
    "pcd_mm": "31",
    "first_hole_deg": "0",
    "screw": "M3",
    "thread_depth_mm": "4",
    "pilot_diameter_mm": "12",
    "pilot_height_mm": "6",
    "shaft_diameter_mm": "6",
    "shaft_length_mm": "21",
    "known": "measured",
    "source": "the motor in hand",
}
BEARING = {
    "designation": "odd one",
    "series": "none",
    "bore_mm": "9",
    "outer_mm": "23",
    "width_mm": "6",
    "chamfer_mm": "0.3",
    "known": "measured",
    "source": "the bearing in hand",
}


def _written(folder, columns, cells):
    path = folder / "own.csv"
    lines = [",".join(columns), ",".join(cells.get(name, "") for name in columns)]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def test_a_face_of_ones_own_is_mounted_like_a_standard_one(tmp_path):
    """What the caliper said comes out as blocks, holes and screws."""
    path = _written(tmp_path, MOTOR_FACE_COLUMNS, FACE)
    made = motor(own_motor_faces(path)["Gear Motor"], body_length_mm=60)
    assert made.shaft.diameter_mm == 6
    assert made.shaft.low_mm == -21
    assert made.fixing.depth_mm == 4
    assert len(made.fixing.points) == 6
    assert made.fixing.points[0] == (15.5, 0)
    assert made.source == "the motor in hand (measured)"


@pytest.mark.parametrize(
    ("changed", "column"),
    [
        ({"body_mm": ""}, "body_mm"),
        ({"pcd_mm": "40"}, "pcd_mm"),
        ({"pcd_mm": "-31"}, "pcd_mm"),
        ({"pilot_diameter_mm": "31"}, "pilot_diameter_mm"),
        ({"shaft_diameter_mm": "12"}, "shaft_diameter_mm"),
        ({"square": "round"}, "square"),
        ({"hole_count": "2.5"}, "hole_count"),
        ({"screw": ""}, "screw"),
        ({"screw": "M3.1"}, "screw"),
        ({"screw": "M3.5"}, "screw"),  # it has a clearance hole in ISO 273, but no screw here
        ({"shaft_length_mm": "5"}, "shaft_length_mm"),
        ({"pilot_diameter_mm": "38"}, "pilot_diameter_mm"),
        ({"first_hole_deg": "1e9"}, "first_hole_deg"),
        ({"hole_count": "1e9"}, "hole_count"),
        ({"hole_count": "721"}, "hole_count"),
        ({"source": ""}, "source"),
    ],
)
def test_a_slip_in_a_face_names_its_cell(tmp_path, changed, column):
    """File, line, column; lengths are held against each other."""
    path = _written(tmp_path, MOTOR_FACE_COLUMNS, {**FACE, **changed})
    with pytest.raises(TableError) as caught:
        own_motor_faces(path)
    assert f"table {path}, line 2, column {column} " in str(caught.value)
    assert caught.value.remedy


def test_an_encoder_of_ones_own_needs_nothing_more(tmp_path):
    """Depth of its threads and length of its shaft stand in the table."""
    given = {**FACE, "designation": "dial", "body_mm": "40"}
    path = _written(tmp_path, ENCODER_COLUMNS, given)
    made = encoder(own_encoder_bodies(path)["dial"], body_length_mm=30)
    assert (made.shaft.low_mm, made.fixing.depth_mm) == (-21, 4)
    # Holes inside the spigot are made (synchro flanges); across its edge they are a slip.
    own_encoder_bodies(_written(tmp_path, ENCODER_COLUMNS, {**given, "pilot_diameter_mm": "38"}))
    with pytest.raises(TableError, match="column pilot_diameter_mm is 33 mm"):
        own_encoder_bodies(
            _written(tmp_path, ENCODER_COLUMNS, {**given, "pilot_diameter_mm": "33"})
        )


def test_a_bearing_of_ones_own_gets_its_seat(tmp_path):
    """ISO 286-1: H7 at 23 mm is 0 to +21 um."""
    path = _written(tmp_path, BEARING_COLUMNS, BEARING)
    made = ball_bearing(own_bearings(path)["odd one"])
    box = made.passages[0].hole.bounds
    assert box.right - box.left == pytest.approx(23.0105)
    with pytest.raises(TableError, match=r"line 2, column bore_mm is 23 mm; give less than"):
        own_bearings(_written(tmp_path, BEARING_COLUMNS, {**BEARING, "bore_mm": "23"}))


def test_a_missing_column_is_said_before_any_cell_is_read(tmp_path):
    """With the header to paste."""
    path = _written(tmp_path, BEARING_COLUMNS[:-1], BEARING)
    with pytest.raises(TableError, match="has no column source"):
        own_bearings(path)
