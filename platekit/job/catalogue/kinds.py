"""The kinds of the catalogue: which table shows what, and which calls take its entries.

A table that ships and stands in no kind fails a test.
"""

from __future__ import annotations

from platekit.job.catalogue.devices import DEVICES
from platekit.job.catalogue.fasteners import FASTENERS
from platekit.job.catalogue.tables import Column, Kind, Table

_KNOWN = Column("known", "{known}")
_SIZES = Column("over / to|mm", "{over_mm} / {to_mm}")
_MATERIAL = Column("material", "{material}")

_SHAFTS = (
    Kind(
        name="keys",
        about="parallel keys by diameter of the shaft",
        calls=("keyed_bore(14)",),
        other_names=("parallel keys", "keyways", "keyed_bore"),
        tables=(
            Table(
                file="hardware/tables/keys.csv",
                columns=(
                    Column("shaft over / to|mm", "{shaft_over_mm} / {shaft_to_mm}"),
                    Column("key|mm", "{width_mm} x {height_mm}"),
                    Column("in shaft|mm", "{shaft_depth_mm}"),
                    Column("in hub|mm", "{hub_depth_mm}"),
                    Column("lengths|mm", "{shortest_mm} to {longest_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="fits",
        about="tolerance classes, ISO 286; a laser holds a tenth, not a grade",
        calls=('bearing_seat("6004", fit="H7")', 'dowel_pin(6, 20, fit="H7")'),
        other_names=("tolerances", "limits", "grades"),
        tables=(
            Table(
                title="grades, micrometres",
                file="hardware/tables/tolerance_grades.csv",
                columns=(
                    _SIZES,
                    *(Column(f"IT{n}", f"{{it{n}_um}}") for n in range(5, 13)),
                    _KNOWN,
                ),
            ),
            Table(
                title="deviations of shafts, micrometres: d to h the upper, k to s the lower",
                file="hardware/tables/shaft_deviations.csv",
                aside=True,
                columns=(
                    _SIZES,
                    *(Column(letter, f"{{{letter}_um}}") for letter in "defghkmnprs"),
                    _KNOWN,
                ),
            ),
        ),
    ),
)

_MATERIALS = (
    Kind(
        name="materials",
        about="sheets to cut, and what no laser may cut",
        calls=('sheet("birch plywood", nominal_mm=6)', "birch_plywood(6)"),
        other_names=("sheets", "sheet", "birch_plywood", "plywood"),
        tables=(
            Table(
                file="materials/materials.csv",
                columns=(
                    Column("name", "{name}"),
                    Column("laser", "{laser}"),
                    Column("kg/m3", "{density_kg_m3}"),
                    _KNOWN,
                    Column("thicknesses|mm", "{nominals_mm}"),
                ),
            ),
            Table(
                title="never cut these",
                file="materials/refused.csv",
                aside=True,
                columns=(Column("name", "{name}"), _KNOWN, Column("why", "{laser_reason}")),
            ),
            Table(
                title="tolerance of the thickness: t is the nominal one",
                file="materials/thickness_tolerance.csv",
                aside=True,
                columns=(
                    _MATERIAL,
                    Column("surface", "{surface}"),
                    _SIZES,
                    Column("minus|mm", "{minus_mm} + {minus_per_mm} t"),
                    Column("plus|mm", "{plus_mm} + {plus_per_mm} t"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="kerfs",
        about="width of the cut; measure yours, make --kerf MM",
        other_names=("beams",),
        tables=(
            Table(
                file="materials/kerfs.csv",
                columns=(
                    _MATERIAL,
                    Column("thickness|mm", "{thickness_mm}"),
                    Column("kerf|mm", "{kerf_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="joints",
        about="clearance of joints by material and hold",
        calls=('tabs("wall", into="base", hold="glued")',),
        other_names=("joint fits", "holds", "clearances"),
        tables=(
            Table(
                file="materials/fits.csv",
                by="kind",
                columns=(
                    Column("joint", "{joint}"),
                    Column("press|mm", "{press_mm}", missing="never"),
                    Column("glued|mm", "{glued_mm}"),
                    Column("slip|mm", "{slip_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
)

_STRENGTHS = (
    Kind(
        name="strengths",
        about="what sheets bear, along / across the face grain; the checks weigh with it",
        other_names=("strength", "sheet strengths"),
        tables=(
            Table(
                file="materials/strengths.csv",
                by="material",
                columns=(
                    Column("nominal|mm", "{nominal_mm}"),
                    Column("bending|MPa", "{bending_0_mpa} / {bending_90_mpa}"),
                    Column("tension|MPa", "{tension_0_mpa} / {tension_90_mpa}"),
                    Column("compression|MPa", "{compression_0_mpa} / {compression_90_mpa}"),
                    Column("shear|MPa", "{panel_shear_mpa}"),
                    Column("modulus|MPa", "{modulus_0_mpa} / {modulus_90_mpa}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="scatter",
        about="how far sizes scatter from part to part; the checks of fit draw from it",
        other_names=("tolerances of cutting", "spread"),
        tables=(
            Table(
                file="materials/scatter.csv",
                columns=(
                    Column("of", "{kind}", missing="any"),
                    Column("figure", "{figure}"),
                    Column("half|mm", "{half_mm}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
    Kind(
        name="solids",
        about="what hubs, shafts and adapters are made of, printed plastics among them",
        other_names=("metals", "made_of", "plastics", "parts' materials"),
        tables=(
            Table(
                file="hardware/tables/solids.csv",
                columns=(
                    Column("name", "{name}"),
                    Column("yields at|MPa", "{yield_mpa}"),
                    Column("breaks at|MPa", "{ultimate_mpa}"),
                    Column("modulus|MPa", "{modulus_mpa}"),
                    Column("kg/m3", "{density_kg_m3}"),
                    _KNOWN,
                ),
            ),
        ),
    ),
)

KINDS = (*DEVICES, *_SHAFTS, *FASTENERS, *_MATERIALS, *_STRENGTHS)
