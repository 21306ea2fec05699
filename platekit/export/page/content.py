"""What the build page shows, as plain JSON; the page's own script draws it.

The page is given one JSON object and draws all of it with ``buildPage.show(content)``. That may be
called again with new content at any time (the live page does): how the rig is turned, how far it is
apart, what is selected and which findings are filtered stay. Every text is set as text, never as
markup, so that names and findings may hold any sign.

The object, all lengths mm, null where a thing does not apply::

    platekit      version
    title         what the plate or the assembly is called
    recipe        name of the recipe
    summary       its first line
    sheet         what it is cut from, in words
    figures       [[label, text]...] the few that stand at the head
    stopped       whether a finding says stop
    withheld      whether cut files are withheld for it
    rig           null for a single plate that is not shown in space, else
      box         [[x, y, z] least, [x, y, z] greatest]
      meshes      {each [mesh...], numbers}, each mesh once: see ``meshes.py``
      things      [thing...], in the order of the rig:
        name      what messages call it
        kind      plate | device | pulley | belt | fastener | captive nut
        plates    names of the plates it is made of
        part      indices into parts of those plates
        colour    "#rrggbb", and opacity, 1 for what hides all behind it
        says      [[label, text]...] for its card
        step      number of the step that brings it in, from 1, or null
        apart     [x, y, z] where it goes when the rig is shown taken apart
        at        [x, y, z] the least corner of its box
        mesh      index into meshes.each
    picture       the rig as a line drawing: {gzip: an SVG file's text, squeezed, size: width and
                  height} or null
    picture_apart the same, taken apart
    parts         [part...]: name, quantity, material, thickness_mm, size_mm [w, h], area_mm2,
                  cut_length_mm, box [left, bottom, width, height], outline [d...] and
                  marks [{layer, d}...] (words of SVG paths, y up), things [indices]
    sheets        [sheet...]: number, name, stock, size_mm, utilisation, used_length_mm, offcut_mm,
                  outline d or null for a plain rectangle, free [d...] (offcuts to keep), pieces
                  [{part (index), x, y, turn_deg, mirrored, copy, label [x, y, height of letters]
                  (where its number is clear of cuts and marks)}...]
    bill          lines in the words of build.json
    totals        in the words of build.json
    families      [family...]: name, asks, weighed, passed, weakest in the words of build.json
    skipped       names of the checks that were switched off
    findings      worst first, those that passed last; in the words of build.json and with
                  figures (what was measured against what) and family
    steps         [step...]: number, heap, brings, bring_in [names], before [texts], moves, joins,
                  screws [texts], belts [names], there and new [indices of things],
                  cautions [texts], picture (as that of the rig), seen {turn, rise} (from where
                  that is drawn, degrees: turn 0 from the right, -90 from the front) or null
                  (colours: classes of its elements, see ``rig_colours.py``), layup (what is glued
                  of layers before: {layers [names, the lowest first], says, picture}) or null
    inputs        [{title, rows [[label, text]...]}...]
    recipe_text   the recipe itself, or empty
    files         [{path, says, there, carried}...]: other files of the run, whether they lie beside
                  the page, and whether it carries them along
    carried       {gzip: a JSON object, path: text, squeezed} or null
    cautions      [{title, lines [texts], foot}...]
"""

from __future__ import annotations

import json

from platekit.export.build import bill_line_json
from platekit.export.build_checks import checks_json
from platekit.export.page.lists import (
    figures_json,
    findings_json,
    inputs_json,
    parts_json,
    sheets_json,
)
from platekit.export.page.page import Page
from platekit.export.page.rig import rig_json, steps_json
from platekit.export.page.squeezed import squeezed, squeezed_drawing
from platekit.export.plain_json import Json, plain_mapping
from platekit.export.totals import totals_json
from platekit.findings import Severity


def content(page: Page) -> dict[str, Json]:
    """Return what the page shows, as the head of this module says."""
    record = page.record
    checks = {} if record.checks is None else checks_json(record.checks)
    return plain_mapping(
        {
            "platekit": record.platekit,
            "title": page.title,
            "recipe": record.recipe,
            "summary": page.summary,
            "sheet": page.sheet,
            "figures": figures_json(page),
            "stopped": any(one.severity is Severity.STOP for one in record.findings),
            "withheld": page.withheld,
            "rig": rig_json(page),
            "picture": squeezed_drawing(page.picture),
            "picture_apart": squeezed_drawing(page.picture_apart),
            "parts": parts_json(page),
            "sheets": sheets_json(page),
            "bill": [bill_line_json(line) for line in record.bill_of_materials],
            "totals": totals_json(record.totals),
            "families": checks.get("families", []),
            "skipped": checks.get("skipped", []),
            "findings": findings_json(page),
            "steps": steps_json(page),
            "inputs": inputs_json(page),
            "recipe_text": page.recipe_text,
            "files": [
                {
                    "path": one.path,
                    "says": one.says,
                    "there": one.there,
                    "carried": one.text is not None,
                }
                for one in page.files
            ],
            "carried": _carried(page),
            "cautions": [
                {"title": one.title, "lines": one.lines, "foot": one.foot} for one in page.cautions
            ],
        }
    )


def _carried(page: Page) -> dict[str, str] | None:
    """Return the files the page carries along, those of a kind together: they squeeze better."""
    texts = {one.path: one.text for one in page.files if one.text is not None}
    in_kinds = sorted(texts, key=lambda path: (path.rpartition(".")[2], path))
    whole = {path: texts[path] for path in in_kinds}
    return squeezed(json.dumps(whole, ensure_ascii=False, separators=(",", ":"))) if whole else None
