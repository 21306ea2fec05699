"""What the build page shows, as plain JSON; the page's own script draws it.

The page is given one JSON object and draws all of it with ``buildPage.show(content)``. That may be
called again with new content at any time (the live page does): how the rig is turned, how far it is
apart, what is selected and which findings are filtered stay. Every text is set as text, never as
markup, so that names and findings may hold any sign.

The object, all lengths mm, null where a thing does not apply::

    platekit      version
    recipe        name of the recipe
    summary       its first line
    sheet         what it is cut from, in words
    figures       [[label, text]...] the few that stand at the head
    stopped       whether a finding says stop
    withheld      whether cut files are withheld for it
    rig           null for a single plate that is not shown in space, else
      box         [[x, y, z] least, [x, y, z] greatest]
      things      [thing...], in the order of the rig:
        name      what messages call it
        kind      plate | device | pulley | belt | fastener | captive nut
        part      indices into parts of the plates it is made of
        says      [[label, text]...] for its card
        step      number of the step that brings it in, from 1, or null
        apart     [x, y, z] where it goes when the rig is shown taken apart
        mesh      see ``meshes.py``: middle, scale, corners, triangles, edges, index
    picture       the rig as a line drawing, text of an SVG file, or null
    parts         [part...]: name, quantity, material, thickness_mm, size_mm [w, h], area_mm2,
                  cut_length_mm, box [left, bottom, width, height], outline [d...] and
                  marks [{layer, d}...] (words of SVG paths, y up), things [indices]
    sheets        [sheet...]: number, name, size_mm, utilisation, used_length_mm, offcut_mm,
                  outline d or null for a plain rectangle, pieces [{part (index), x, y, turn_deg,
                  mirrored, copy}...]
    bill          lines in the words of build.json
    totals        in the words of build.json
    families      [family...]: name, asks, weighed, passed, weakest in the words of build.json
    skipped       names of the checks that were switched off
    findings      worst first, those that passed last; in the words of build.json and with
                  figures (what was measured against what) and family
    steps         [step...]: number, heap, brings, bring_in [names], before [texts], moves, joins,
                  screws [texts], belts [names], there and new [indices of things],
                  picture (text of an SVG file, or null)
    inputs        [{title, rows [[label, text]...]}...]
    recipe_text   the recipe itself, or empty
    files         [{path, says, there}...]: other files of the run, and whether they lie beside it
    cautions      [{title, lines [texts], foot}...]
"""
