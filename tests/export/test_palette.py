"""The table of layers."""

import pytest

from platekit.cutting.drawing import Layer
from platekit.errors import PlatekitError
from platekit.export.palette import OKABE_ITO, PALETTE, Palette, Pen


def test_every_layer_has_a_pen_from_the_table():
    """No layer is without one, and all colours are from the published eight."""
    pens = [PALETTE.of(layer) for layer in Layer]
    assert len({pen.layer_name for pen in pens}) == len(Layer)
    assert {pen.colour for pen in pens} <= set(OKABE_ITO.values())


@pytest.mark.parametrize(
    ("name", "rgb"),
    [
        ("black", (0, 0, 0)),
        ("orange", (230, 159, 0)),
        ("sky blue", (86, 180, 233)),
        ("bluish green", (0, 158, 115)),
        ("yellow", (240, 228, 66)),
        ("blue", (0, 114, 178)),
        ("vermillion", (213, 94, 0)),
        ("reddish purple", (204, 121, 167)),
    ],
)
def test_colours_are_the_published_ones(name, rgb):
    """Okabe and Ito (2008), decimal RGB column of their table, from memory."""
    assert Pen("X", OKABE_ITO[name]).rgb == rgb


def test_bad_pens_are_refused():
    """A name old controllers cannot read, or a colour that is none, is named in the error."""
    with pytest.raises(PlatekitError, match="layer name is 'cut inside'"):
        Pen("cut inside", "#000000")
    with pytest.raises(PlatekitError, match="colour of layer CUT is 'blue'; write it as #rrggbb"):
        Pen("CUT", "blue")


def test_layers_may_not_look_alike():
    """Machines that tell layers by colour alone would cut what should be scored."""
    with pytest.raises(PlatekitError, match="two layers share the colour #0072b2"):
        Palette(score=Pen("SCORE", "#0072B2"))
    with pytest.raises(PlatekitError, match="two layers share the name NOTES"):
        Palette(score=Pen("NOTES", "#000000"))
